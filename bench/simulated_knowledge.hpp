#pragma once

#include <map>
#include <optional>
#include <string>
#include <tuple>
#include <vector>

#include "plan/promise.hpp"
#include "simulated_bench.hpp"
#include "simulated_luck.hpp"
#include "supply/lead_time.hpp"

namespace rollwright::bench {

/// A part that one bike waits for, and what has become of it.
struct Line {
  int bike = 0;
  std::string order;
  trade::PartId part;
  int quantity = 1;
  bool may_follow = false;
  const trade::Offer* offer = nullptr;
  trade::Spread foreseen;      // working days from buying it, as learned on the day of the order
  Money cost;
  Day buy_on = {};             // not before this day
  std::optional<Day> placed;
  std::optional<Day> confirmed;
  std::optional<Day> here;     // and good
  int attempt = 0;             // deliveries that were not good
  // what the shop does not know:
  Delivery delivery;
  Day arrives = {};

  [[nodiscard]] std::string name() const;  // of its luck
};

struct Said {
  plan::Promise promise;
  std::string hold;
};

inline constexpr int kPromiseHorizon = 330;  // days

/// What the shop knows on a day, and what it says from that; all through the engines of src.
///
/// Knows: the trade's rows and its own receipts (learned anew every second week), the people's
/// weeks and the holidays told so far, who is out today, the usual shares of walk-ins and illness,
/// which operations are done and about how much of those in hand is left, and what suppliers
/// confirmed.
class Knowledge {
 public:
  Knowledge(const Catalogue& catalogue, const Luck& luck);

  void learn(const std::vector<trade::Receipt>& receipts);
  [[nodiscard]] const supply::LeadTimes& lead_times() const { return *lead_times_; }

  /// From whoever is soonest nine times in ten.
  [[nodiscard]] Line line_for(const WantedPart& wanted, int bike, const std::string& order);
  [[nodiscard]] Said promise(const Bench& bench, const std::vector<Line>& lines, int bike,
                             Day today);
  void set_draws(int draws) { draws_ = draws; }

  /// The latest of the middle days of the parts, then the usual days of building.
  [[nodiscard]] Day by_medians(const std::vector<Line>& lines, const Bike& bike, int place) const;
  /// Two working days and one for each four hours of work: common practice is two to six.
  [[nodiscard]] static int building_days(const Bike& bike);
  /// Chance, as foreseen on the day of the order, that its kit is complete by `day`.
  [[nodiscard]] double kit_place(const std::vector<Line>& lines, int bike, Day agreed,
                                 Day day) const;
  /// The first day by which that is at least half.
  [[nodiscard]] Day kit_middle(const std::vector<Line>& lines, int bike, Day agreed) const;
  [[nodiscard]] std::vector<Shift> usual_shifts(Day day, Day today) const;

 private:
  [[nodiscard]] plan::PlanInput workshop(Day today) const;
  void add_bike(plan::PlanInput& input, const Bike& bike) const;
  void add_line(plan::PlanInput& input, const Line& line, int first_task, const Bike& bike);
  [[nodiscard]] const trade::Spread& left(const Line& line, Day today);

  const Catalogue& catalogue_;
  const Luck& luck_;
  int draws_ = 200;
  std::optional<supply::LeadTimes> lead_times_;
  using Road = std::tuple<std::string, std::string, std::string>;  // supplier, group, road
  [[nodiscard]] Road road_of(const trade::Offer& offer) const;
  std::map<Road, std::pair<int, trade::Spread>> fresh_;  // days at 90 %, and the whole
  std::map<std::tuple<Road, Day, std::optional<Day>>, trade::Spread> left_;
  Day left_on_ = {};
};

}  // namespace rollwright::bench
