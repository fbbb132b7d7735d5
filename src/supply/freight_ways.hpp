#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "supply/day_odds.hpp"
#include "trade/supplier.hpp"

namespace rollwright::supply {

class LeadTimes;

/// What comes before the first leg by freight: the goods are got ready at the supplier.
inline constexpr const char* kGettingReady = "getting ready";

/// The way on which goods come: that of this mode, or with no mode the usual one of their
/// availability (stocked, importer, made). Null when the supplier has none such.
[[nodiscard]] const trade::FreightWay* way_of(const trade::Supplier& supplier,
                                              const std::string& availability,
                                              const std::string& mode = {});
/// The legs of a way, getting ready first.
[[nodiscard]] std::vector<std::string> all_legs(const trade::FreightWay& way);

/// Where goods under way are, and how long the rest of their road takes.
///
/// Method:   the leg they are on, given that it is not done yet (given_not_yet over calendar days),
///           then the legs after it; in working days, for carriers come on those.
/// Accuracy: that of freight_legs.hpp. Ignores: as there.
class Roads {
 public:
  Roads() = default;
  Roads(const std::vector<trade::FreightLeg>& legs, const std::vector<trade::Supplier>& suppliers);

  /// The way of a line; null when its supplier has none.
  [[nodiscard]] const trade::FreightWay* way_of(const trade::PurchaseLine& line,
                                                const std::string& availability) const;
  /// The first way for the availability, by which a line comes of which nobody says otherwise.
  [[nodiscard]] const trade::FreightWay* usual_way(const trade::SupplierId& supplier,
                                                   const std::string& availability) const;
  /// Working days from `today` until the goods are here, by the legs that are done. Nothing when no
  /// leg was noted or the supplier has no such way: then this knows no better than anybody.
  [[nodiscard]] std::optional<DayOdds> left(const trade::PurchaseLine& line,
                                            const std::string& availability, Day today,
                                            const std::vector<Day>& closed) const;
  /// Working days for the whole road of a way, `gone` calendar days after the goods were ordered and
  /// while they are still being got ready.
  [[nodiscard]] DayOdds whole(const trade::FreightWay& way, int gone, Day today,
                              const std::vector<Day>& closed) const;

 private:
  [[nodiscard]] DayOdds rest(const trade::FreightWay& way, std::size_t done, int gone) const;

  std::vector<trade::FreightLeg> legs_;
  std::map<trade::SupplierId, std::vector<trade::FreightWay>> ways_;
};

/// One way in which some pieces could come.
struct FreightMode {
  std::string mode;     // "sea"
  std::string carrier;  // who brings them
  bool usual = false;   // what happens when nobody says otherwise
  /// Freight of one consignment of these pieces, and what it costs beyond the usual mode (negative
  /// when it is cheaper). Nothing when it goes by mass and the mass of the part is not known.
  std::optional<std::int64_t> cost_cents;
  std::optional<std::int64_t> extra_cents;
  DayOdds days;         // working days from today until a good part is in hand
  std::string basis;    // of the days, in words
};

/// What is asked: pieces of an offer to be ordered now, or those of a line that is under way.
struct FreightQuestion {
  const trade::Supplier& supplier;
  const trade::Offer& offer;                  // of the part; its availability tells the ways
  int quantity = 1;
  std::optional<Mass> mass_each;
  const trade::PurchaseLine* line = nullptr;  // null: to be ordered now
  Day today = {};
  const std::vector<Day>& closed;
};

/// The modes of freight that the supplier offers for these pieces, the usual one (for a line: the
/// one it was ordered with) first; empty when there is no choice on file. A line that has left the
/// supplier has only the mode it is on.
///
/// Method:   each mode takes the days of LeadTimes::left for the line with that mode (for what is to be
///           ordered: for a line placed today), which everything else reckons with as soon as the
///           line's mode says so.
/// Ignores:  volume (put it into per_kg); that a share of a consignment costs less than the whole.
[[nodiscard]] std::vector<FreightMode> freight_modes(const FreightQuestion& question,
                                                     const LeadTimes& lead_times);

}  // namespace rollwright::supply
