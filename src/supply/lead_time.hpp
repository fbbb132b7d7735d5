#pragma once

#include <map>
#include <string>
#include <tuple>
#include <vector>

#include "supply/day_odds.hpp"
#include "supply/freight_ways.hpp"
#include "supply/kept_days.hpp"
#include "supply/lead_fit.hpp"
#include "trade/supplier.hpp"
#include "trade/trade.hpp"

namespace rollwright::supply {

/// What some odds rest on, to be counted by whoever doubts them.
struct LeadEvidence {
  std::string group;         // of part kinds, as in lead_times.csv
  int of_kind = 0;           // receipts of that group, on this road, from this supplier
  int of_supplier = 0;       // receipts from this supplier in all
  int not_good = 0;          // of these wrong, damaged or short
  int open = 0;              // lines of that group and road that are not here yet
  int longest = 0;           // working days that the first of these has waited
  double unsure = 1;         // of what was unsure about the middle, how much still is (LeadBelief)
};
[[nodiscard]] std::string in_words(const LeadEvidence& evidence);

/// A line that had been placed and of which nothing was here on a day.
struct StillOpen {
  trade::SupplierId supplier;
  trade::PartId part;
  Day ordered = {};
  Day open_on = {};
};

/// The lead-time group of each of these parts whose kind has one.
[[nodiscard]] std::map<trade::PartId, std::string> lead_time_groups(
    const trade::Trade& trade, const std::vector<trade::Part>& parts);

/// How long deliveries take, learned from what came: for each supplier, group of part kinds and
/// road (stocked, importer, made).
///
/// Method:   delivery: learn() in supply/lead_fit.hpp, each receipt on the road on which the
///           supplier offers the part today, and lines that are still open as times beyond the days
///           they have waited. Good delivery: of what comes, a share is wrong,
///           damaged or short (bad receipts of the supplier, and 5 in 100 with the weight of ten
///           receipts besides); it is then sent once more, as a part that the supplier stocks.
/// Source:   [bayes] in docs/sources.md; 3 to 8 in 100 is common practice for boxed bikes.
/// Accuracy: as for learn().
/// Ignores:  season and trend; deliveries in parts; open lines where days confirmed are learned
///           (KeptDays); that a replacement may be sent faster, or go
///           wrong again.
class LeadTimes {
 public:
  /// `group_of` gives the lead-time group of each part. Receipts and open lines of parts without a
  /// group are left out, and so is what came before it was ordered or has not waited for a day.
  LeadTimes(const std::map<std::string, trade::LeadTimePrior>& priors,
            const std::map<trade::PartId, std::string>& group_of,
            const std::vector<trade::Receipt>& receipts,
            const std::vector<trade::Offer>& offers = {}, Roads by_road = {},
            const std::vector<StillOpen>& open = {});

  /// Working days from placing the order to a delivery, good or not.
  [[nodiscard]] DayOdds delivery(const trade::Offer& offer) const;
  /// Working days from placing the order to a good part in hand.
  [[nodiscard]] DayOdds odds(const trade::Offer& offer) const;
  /// Fewest working days within which that is so with probability `p` in (0, 1) (days_for).
  [[nodiscard]] int days(const trade::Offer& offer, double p) const;
  /// The odds as the nearest spread (spread_like), its basis in words.
  [[nodiscard]] trade::Spread of(const trade::Offer& offer) const;
  [[nodiscard]] LeadEvidence evidence(const trade::Offer& offer) const;

  /// Working days from `today` until a purchase under way is here and good, given that it has not
  /// come yet: by where the goods are when a leg of their road is noted as done (Roads), else by the
  /// day confirmed and how the supplier keeps such days (once shipped, those confirmed up to a week
  /// ahead), else by the days gone since it was placed. Where the line comes by another mode of
  /// freight than the supplier's usual one, for which all that was learned: the legs of that way after
  /// the same getting ready, moved by as many days as what was learned differs at the middle from the
  /// legs of the usual way.
  [[nodiscard]] DayOdds left(const trade::PurchaseLine& line, Day today,
                             const std::vector<Day>& closed) const;
  /// What `left` rests on, in words.
  [[nodiscard]] std::string basis_of_left(const trade::PurchaseLine& line, Day today,
                                          const std::vector<Day>& closed) const;
  /// Receipts that it counts: of such days confirmed, or of such parts; 0 when it goes by legs.
  [[nodiscard]] int receipts_behind(const trade::PurchaseLine& line, Day today,
                                    const std::vector<Day>& closed) const;
  /// Its way of freight; null when the supplier has none on file.
  [[nodiscard]] const trade::FreightWay* way_of(const trade::PurchaseLine& line) const;
  [[nodiscard]] const Roads& roads() const { return roads_; }
  [[nodiscard]] trade::Spread left_as_spread(const trade::PurchaseLine& line, Day today,
                                             const std::vector<Day>& closed) const;

  /// How much deliveries that one supplier was asked for in the same week are late together, 0 to
  /// 0.8: the correlation of their normal scores.
  ///
  /// Method:   each receipt's place in its own odds, as a normal score; mean product over the pairs
  ///           of a supplier and week, against thirty pairs of none, over the mean square of the
  ///           scores. Below 0.05 it counts as 0.
  [[nodiscard]] double late_together(const trade::SupplierId& supplier) const;

 private:
  using Key = std::tuple<trade::SupplierId, std::string, std::string>;  // supplier, group, road
  struct Cell {
    DayOdds delivery;
    DayOdds again;  // in place of a bad one
    DayOdds good;
    trade::Spread spread;
    LeadEvidence evidence;
  };
  struct Supplied {
    int count = 0;
    int not_good = 0;
    double late_together = 0;
  };
  [[nodiscard]] static int ahead_of(const trade::PurchaseLine& line);
  [[nodiscard]] Key key_of(const trade::SupplierId& supplier, const trade::PartId& part) const;
  [[nodiscard]] LeadHistory nothing_seen(const Key& key) const;
  [[nodiscard]] Cell cell_from(const Key& key, const LeadBelief& belief,
                               const DayOdds& again) const;
  /// The cell on file, else one worked out into `room`.
  [[nodiscard]] const Cell& cell(const Key& key, Cell& room) const;
  [[nodiscard]] const Cell& cell(const trade::Offer& offer, Cell& room) const;
  [[nodiscard]] double bad_share(const trade::SupplierId& supplier) const;
  void learn_supplier(const trade::SupplierId& supplier);
  void learn_together(const std::vector<trade::Receipt>& receipts);

  std::map<std::string, trade::LeadTimePrior> priors_;
  std::map<trade::PartId, std::string> group_of_;
  std::map<std::pair<trade::SupplierId, trade::PartId>, std::string> road_;
  std::map<trade::SupplierId, Supplied> suppliers_;
  std::map<Key, LeadHistory> histories_;
  std::map<Key, Cell> cells_;
  KeptDays kept_;
  Roads roads_;
};

}  // namespace rollwright::supply
