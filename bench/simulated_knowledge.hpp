#pragma once

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <tuple>
#include <vector>

#include "plan/odds_kept.hpp"
#include "plan/orders_to_come.hpp"
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
  std::shared_ptr<const supply::DayOdds> foreseen;  // from buying it, as learned on the day of the
                                                    // order
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
  plan::Promise simulated;
  plan::Promise promise;  // as worth by the record
  std::vector<plan::OrderSeen::Work> work;
};

/// What engines are made use of, to see what each is worth.
struct Means {
  bool record = true;    // the odds as the shop's own promises came out
  bool to_come = true;   // orders that nobody has agreed yet
  bool in_turn = true;   // the order asked about takes its turn by the day it would be told
};

inline constexpr int kPromiseHorizon = 330;  // days

/// What the shop knows on a day, and what it says from that; all through the engines of src.
///
/// Knows: the trade's rows and its own receipts (learned anew every second week), the people's
/// weeks and the holidays told so far, who is ill today, the usual shares of walk-ins and illness,
/// which operations are done and about how much of those in hand is left, what suppliers confirmed,
/// and its own promises with what came of them.
class Knowledge {
 public:
  Knowledge(const Catalogue& catalogue, const Luck& luck);

  /// From what came, and from the lines that were ordered and are not here on this day.
  void learn(const std::vector<trade::Receipt>& receipts, const std::vector<Line>& lines,
             Day today);
  [[nodiscard]] const supply::LeadTimes& lead_times() const { return *lead_times_; }

  using Table = std::shared_ptr<const std::vector<double>>;
  /// Chance of being here within so many working days: of buying it, else from today.
  [[nodiscard]] Table here_from(const Line& line, Day today);
  /// From whoever is soonest nine times in ten.
  [[nodiscard]] Line line_for(const WantedPart& wanted, int bike, const std::string& order);
  [[nodiscard]] Said promise(const Bench& bench, const std::vector<Line>& lines, int bike,
                             Day today);

  /// A job with its person, and its start in minutes from 00:00 of the day on which it was planned.
  struct Planned {
    int bike = 0;
    int job = 0;
    int person = 0;
    int start = 0;
  };
  /// The plan of the whole shop from that minute of today on, by start; what `last` said of the
  /// time to come (its starts counted from today) is kept to where nothing is lost by it.
  [[nodiscard]] std::vector<Planned> plan(const Bench& bench, const std::vector<Line>& lines,
                                          Day today, int minute, const std::vector<Planned>& last);

  void set_draws(int draws) { draws_ = draws; }
  void set_means(const Means& means) { means_ = means; }
  /// What was promised for a bike, to be learned from.
  void note_promise(int bike, const Said& said, Day today, Day told);
  void note_ready(int bike, Day ready);
  [[nodiscard]] plan::OddsKept odds_kept(Day today) const;

  /// The latest of the middle days of the parts, then the usual days of building.
  [[nodiscard]] Day by_medians(const std::vector<Line>& lines, const Bike& bike, int place) const;
  /// Usual working days from the kit to the bike (shop::building_days).
  [[nodiscard]] static int building_days(const Bike& bike);
  /// Chance, as foreseen on the day of the order, that its kit is complete by `day`.
  [[nodiscard]] double kit_place(const std::vector<Line>& lines, int bike, Day agreed,
                                 Day day) const;
  /// The first day by which that is at least half.
  [[nodiscard]] Day kit_middle(const std::vector<Line>& lines, int bike, Day agreed) const;
  [[nodiscard]] std::vector<Shift> usual_shifts(Day day, Day today) const;

 private:
  struct Promised {
    Day said = {};
    std::vector<plan::CurvePoint> curve;  // as simulated
    std::optional<Day> ready;
  };
  /// The shop's open bikes; by bike its first task and its order, -1 for one that is ready.
  struct AllOpen {
    plan::PlanInput input;
    std::vector<int> first_task;
    std::vector<int> order_of;
  };
  [[nodiscard]] AllOpen all_open(const Bench& bench, const std::vector<Line>& lines, Day today,
                                 int minute);
  [[nodiscard]] plan::PlanInput workshop(Day today) const;
  [[nodiscard]] trade::Person person_on(std::size_t index, Day today) const;
  void add_bike(plan::PlanInput& input, const Bike& bike) const;
  void add_line(plan::PlanInput& input, const Line& line, int first_task, const Bike& bike);
  [[nodiscard]] Table until_here(const Line& line, Day today);

  const Catalogue& catalogue_;
  const Luck& luck_;
  Means means_;
  int draws_ = 200;
  std::optional<supply::LeadTimes> lead_times_;
  using Road = std::tuple<std::string, std::string, std::string>;  // supplier, group, road
  [[nodiscard]] Road road_of(const trade::Offer& offer) const;
  std::map<Road, std::pair<int, std::shared_ptr<const supply::DayOdds>>> fresh_;  // days at 90 %
  std::map<std::tuple<Road, Day, std::optional<Day>>, Table> left_;
  Day left_on_ = {};
  std::map<int, Promised> promised_;  // by bike
  std::vector<std::pair<Day, plan::OrderSeen>> seen_;
};

}  // namespace rollwright::bench
