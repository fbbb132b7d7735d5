#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "book/database.hpp"
#include "trade/bike_record.hpp"

/// The records of bikes. They are only ever added to, never read as a whole: a bike's by its order,
/// others by the part, serial or lot that somebody looks for.
namespace rollwright::book {

/// Puts lines behind those that are there; `after` must be the last one's number. Inside a
/// transaction. Errors: kConflict when somebody else wrote to the record in the meantime.
[[nodiscard]] Result<void> add(Database& database, const trade::BikeLines& lines);

/// Whether these were written already, going by their key.
[[nodiscard]] Result<bool> was_sent(Database& database, const std::string& key);

/// Of one bike, the lines after this number.
[[nodiscard]] Result<std::vector<trade::BikeLine>> read_bike_lines(Database& database,
                                                                   const trade::OrderId& order,
                                                                   int after);
[[nodiscard]] Result<std::vector<trade::BikeLine>> read_bike_photos(Database& database,
                                                                    const trade::OrderId& order);

/// One line of some bike's record.
struct LineFound {
  trade::OrderId order;
  trade::BikeLine line;
};

/// Which parts somebody looks for; what is empty is not asked. At least one of part, lot and serial
/// must be given.
struct MarksWanted {
  std::vector<trade::PartId> parts;  // any of them
  std::string lot_from, lot_to;        // both included; of the same length, by their characters
  std::string serial_from, serial_to;
  /// Of the parts, also those whose lot or serial, of what is asked, is not written down.
  bool unmarked_too = false;
};

/// Lines by which parts came onto a bike or off it, in the order of bikes and of their records. Errors: kBadInput when nothing is asked or a range's
/// ends differ in length.
[[nodiscard]] Result<std::vector<LineFound>> find_marks(Database& database,
                                                        const MarksWanted& wanted);

/// When bikes came back, were given back and their riders told to come, in order: all of it of those bikes
/// into whose record something was written after this journal entry; 0: of all.
[[nodiscard]] Result<std::vector<LineFound>> read_visits(Database& database, std::int64_t after);

/// The journal's subject for a bike: "bike 2041"; and what it says of lines that are written together.
[[nodiscard]] std::string bike_subject(const trade::OrderId& order);
[[nodiscard]] std::string text_of(const trade::BikeLines& lines);

/// Compares every row with what the journal said of it when it was written. The sentence names the
/// first that is not as it was; nothing when all are.
[[nodiscard]] Result<std::optional<std::string>> first_altered_line(Database& database);

}  // namespace rollwright::book
