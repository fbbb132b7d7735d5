#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/clock.hpp"
#include "base/result.hpp"
#include "trade/order.hpp"
#include "trade/supplier.hpp"

/// What is ordered from the maker of a whole bike, and what the maker says is built.
namespace rollwright::trade {

/// A position that is none of the bike's: the maker put something in that nobody asked for.
inline constexpr const char* kOtherPosition = "other";
/// Positions that no part stands in: how the bike is set up. Their value is `options`.
[[nodiscard]] const std::vector<std::string>& setting_positions();
[[nodiscard]] bool is_setting(std::string_view position);

/// One line of the order form, or of a maker's list.
struct MakerLine {
  std::string position;  // a slot's id, a setting, or "other"
  PartId part;           // empty: a setting, or nothing of our catalogue
  std::string article;   // the maker's own number; may be empty
  int quantity = 1;      // from 1 to 999
  std::string options;   // "size: S 46; colour: red"; of a setting its value
  std::string serial;    // of a list only; may be empty
  std::string note;      // on a form: the STOP rules that hang on the line; on a list: the maker's

  friend bool operator==(const MakerLine&, const MakerLine&) = default;
};

/// The order form as it was sent. Never changed: a newer one is sent instead.
struct MakerForm {
  OrderId order;
  int number = 1;        // from 1, by order
  int version = 1;       // of the signed specification
  SupplierId maker;
  Day wanted = {};       // on which the bike is wanted here
  Day sent = {};
  std::string how;       // mail, letter, the maker's own page
  PersonId who;
  std::vector<MakerLine> lines;

  friend bool operator==(const MakerForm&, const MakerForm&) = default;
};

/// What a list tells of: what the maker will build, or has built.
enum class MakerListKind { kConfirmed, kAsBuilt };
[[nodiscard]] std::string_view word_of(MakerListKind kind);  // "confirmed", "as built"
[[nodiscard]] std::optional<MakerListKind> maker_list_kind_named(std::string_view word);

/// A list as the maker gave it. Never changed: a newer one of its kind replaces it.
struct MakerList {
  OrderId order;
  MakerListKind kind = MakerListKind::kConfirmed;
  int number = 1;         // from 1, by order and kind
  std::string reference;  // the maker's number of it; may be empty
  std::string file;       // it was taken in from; empty: typed in
  Day day = {};
  PersonId who;
  std::vector<MakerLine> lines;

  friend bool operator==(const MakerList&, const MakerList&) = default;
};

/// What a person said to a difference between the signed specification and a list. The newest about
/// a difference counts; a difference that is not quite the same is another one.
struct DifferenceAnswer {
  OrderId order;
  int number = 1;         // from 1, by order
  MakerListKind kind = MakerListKind::kConfirmed;
  int list = 1;           // the list that was looked at
  std::string position;
  std::string ordered;    // the line as in build::line_key; empty: nothing
  std::string listed;
  bool accepted = false;  // else denied: the maker has to put it right
  std::string why;
  std::string signed_by;  // of the customer, where nothing has to be signed as a new version
  Money price_change;     // of the bike to the customer, when accepted
  PersonId who;
  Day day = {};

  friend bool operator==(const DifferenceAnswer&, const DifferenceAnswer&) = default;
};

/// Options by their names, both without capitals and extra blanks: "Size: S 46" is size -> "s 46".
/// A piece without a colon is a name without a value.
[[nodiscard]] std::map<std::string, std::string> options_of(std::string_view text);
/// Without capitals, extra blanks and blanks at the ends.
[[nodiscard]] std::string plain_words(std::string_view text);

}  // namespace rollwright::trade
