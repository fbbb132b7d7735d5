#include "simulated_shop.hpp"

#include <algorithm>
#include <chrono>
#include <set>
#include <tuple>

#include "base/index.hpp"
#include "base/working_days.hpp"
#include "simulated_knowledge.hpp"
#include "supply/buying.hpp"
#include "supply/kit_days.hpp"

namespace rollwright::bench {
namespace {

using std::chrono::days;

constexpr Day kFirst = Day(std::chrono::year(2023) / 1 / 2);  // a Monday
/// After the counted days the shop goes on until the last counted bike is ready, or so long.
constexpr int kDaysAfter = 400;
constexpr int kOpens = 8 * 60;
constexpr int kCarrier = 12 * 60;
constexpr int kCloses = 21 * 60;
constexpr int kAhead = 7;  // days for which people are told what they will do
constexpr int kWeek = 7;
constexpr int kLearns = 14;  // days from one reading of the receipts to the next

class Run {
 public:
  Run(const Catalogue& catalogue, std::uint64_t seed, const Running& running)
      : catalogue_(catalogue),
        running_(running),
        last_(running.days_before + running.days_counted + kDaysAfter),
        luck_(seed, catalogue, kFirst, last_, running.laws),
        bench_(catalogue, running.turns),
        knowledge_(catalogue, luck_),
        orders_(luck_.orders(running.orders_a_week)) {
    knowledge_.set_draws(running.draws);
    knowledge_.set_means(running.means);
  }

  Course course() {
    for (int day = 0; day < last_; ++day) {
      if (day >= end_of_count() && nothing_left()) break;
      live(day);
    }
    const double weeks = running_.days_counted / 7.0;
    course_.shelf_euros /= running_.days_counted;
    course_.busy = at_work_ > 0 ? worked_ / at_work_ : 0;
    course_.moved_per_week = moved_ / weeks;
    return std::move(course_);
  }

 private:
  int end_of_count() const { return running_.days_before + running_.days_counted; }
  bool is_counted(int day) const { return running_.days_before <= day && day < end_of_count(); }

  bool nothing_left() const {
    return std::ranges::none_of(course_.orders, [](const Outcome& order) {
      return order.counted && !order.ready;
    });
  }

  void live(int day) {
    const Day today = kFirst + days(day);
    if (day % kLearns == 0) knowledge_.learn(receipts_, lines_, today);
    if (running_.plan) {
      plan_day(today);
    } else if (running_.look_ahead && is_counted(day)) {
      run_ahead(day);
    }
    if (running_.look_ahead && is_counted(day)) count_moved(day);
    bench_.begin_day(day, shifts(today));
    bench_.work(kOpens, kCarrier);
    take_in(today);
    bench_.work(kCarrier, kCloses);
    note_ready();
    if (running_.again_at_kit) promise_again(today);
    while (next_ < orders_.size() && orders_[next_].day == today) agree(orders_[next_++], day);
    if (!running_.buy_at_once) plan_buying_again(today, day);
    buy(today);
    if (is_counted(day)) course_.shelf_euros += on_shelf();
  }

  std::vector<Shift> shifts(Day today) {
    std::vector<Shift> shifts;
    for (std::size_t person = 0; person < catalogue_.files.people.size(); ++person) {
      const int who = static_cast<int>(person);
      shifts.push_back({.windows = luck_.at_work(who, today), .pace = luck_.pace(who)});
      for (const plan::Window& window : shifts.back().windows) {
        at_work_ += (window.to - window.from) * shifts.back().pace;
      }
    }
    return shifts;
  }

  void agree(const Agreed& agreed, int day) {
    const Design& design = catalogue_.designs[at(agreed.design)];
    Bike bike{.id = agreed.id, .agreed = agreed.day, .due = {}, .design = &design};
    for (const DesignStep& step : design.steps) {
      const trade::Operation& operation = *step.operation;
      bike.jobs.push_back({.operation = &operation,
                           .left = luck_.minutes(agreed.id, operation),
                           .expected = (operation.minutes_low + operation.minutes_high) / 2});
      worked_ += bike.jobs.back().left;
    }
    bike.kit_here = std::ranges::all_of(agreed.parts, &WantedPart::may_follow);
    bike.all_here = agreed.parts.empty();
    const int place = bench_.add(std::move(bike));
    lines_of_.emplace_back();
    for (const WantedPart& wanted : agreed.parts) {
      lines_of_[at(place)].push_back(lines_.size());
      lines_.push_back(knowledge_.line_for(wanted, place, agreed.id));
    }
    course_.orders.push_back({.id = agreed.id, .build = design.build, .agreed = agreed.day});
    Outcome& outcome = course_.orders.back();
    outcome.counted = is_counted(day);
    if (bench_.bikes()[at(place)].kit_here) outcome.kit = agreed.day;
    promise(outcome, place, day);
    bench_.tell(place, outcome.told);
    plan_buying(place, outcome, agreed.day);
  }

  void promise(Outcome& outcome, int place, int day) {
    outcome.by_medians = knowledge_.by_medians(lines_, bench_.bikes()[at(place)], place);
    const auto told = running_.told.find(outcome.id);
    if (told != running_.told.end()) {
      outcome.told = told->second;
    } else if (day >= end_of_count()) {
      outcome.told = outcome.by_medians + days(usual_slack_);
    } else {
      Said said = knowledge_.promise(bench_, lines_, place, outcome.agreed);
      outcome.told = said.promise.day_90.value_or(outcome.agreed + days(kPromiseHorizon));
      usual_slack_ = static_cast<int>((outcome.told - outcome.by_medians).count());
      outcome.kit_middle = knowledge_.kit_middle(lines_, place, outcome.agreed);
      course_.placements += said.promise.placements;
      knowledge_.note_promise(place, said, outcome.agreed, outcome.told);
      outcome.simulated = std::move(said.simulated);
      outcome.promise = std::move(said.promise);
    }
  }

  void promise_again(Day today) {
    for (std::size_t place = 0; place < course_.orders.size(); ++place) {
      Outcome& outcome = course_.orders[place];
      if (!outcome.counted || outcome.ready || outcome.kit != today) continue;
      Said said = knowledge_.promise(bench_, lines_, static_cast<int>(place), today);
      outcome.at_kit = std::move(said.promise);
    }
  }

  /// The days on which the parts of a bike that still have to be bought are best bought, for what is
  /// known today of those under way. They are bought for the day that the simulation gave: would
  /// they be for a day told later than that because bikes were late, bikes would be ready later
  /// still, and then later days told.
  void plan_buying(int place, const Outcome& outcome, Day today) {
    if (running_.buy_at_once) return;
    Day aim = outcome.told;
    if (outcome.simulated && outcome.simulated->day_90) {
      aim = std::min(aim, *outcome.simulated->day_90);
    }
    const Day kit = add_working_days(
        aim, -Knowledge::building_days(bench_.bikes()[at(place)]), luck_.closed());
    const int until = working_days_between(today, kit, luck_.closed());
    supply::KitQuestion question{.parts = {}, .in_hand = 0, .until = until,
                                 .confidence = running_.kit_confidence};
    std::vector<Knowledge::Table> tables;
    std::vector<Line*> lines;
    for (const std::size_t index : lines_of_[at(place)]) {
      Line& line = lines_[index];
      const double euros = static_cast<double>(line.cost.cents) / 100;
      if (line.here) question.in_hand += euros;
      if (line.here || (line.may_follow && line.placed)) continue;
      tables.push_back(knowledge_.here_from(line, today));
      question.parts.push_back({.by = tables.back().get(), .cost = euros,
                                .to_buy = !line.placed});
      lines.push_back(&line);
    }
    const supply::KitDays days = supply::kit_days(question);
    for (std::size_t i = 0; i < lines.size(); ++i) {
      if (lines[i]->placed) continue;
      lines[i]->buy_on = add_working_days(today, days.wait[i], luck_.closed());
    }
  }

  /// What came, or was confirmed, moves the days of what is not bought yet; each week, what did not.
  void plan_buying_again(Day today, int day) {
    for (std::size_t place = 0; place < course_.orders.size(); ++place) {
      const bool has_to_buy = std::ranges::any_of(lines_of_[place], [this](std::size_t index) {
        return !lines_[index].placed;
      });
      const bool is_due = news_.contains(static_cast<int>(place)) ||
                          (day + static_cast<int>(place)) % kWeek == 0;
      if (has_to_buy && is_due) {
        plan_buying(static_cast<int>(place), course_.orders[place], today);
      }
    }
    news_.clear();
  }

  void buy(Day today) {
    if (!is_working_day(today, luck_.closed())) return;
    for (std::size_t index = 0; index < lines_.size(); ++index) {
      if (!lines_[index].placed && lines_[index].buy_on <= today) place(index, today);
    }
  }

  void place(std::size_t index, Day today) {
    Line& line = lines_[index];
    line.delivery = luck_.delivery(*line.offer, line.name(), today);
    line.placed = today;
    line.arrives = add_working_days(today, line.delivery.working_days, luck_.closed());
    line.confirmed.reset();
    if (line.delivery.confirmed) {
      line.confirmed = add_working_days(today, *line.delivery.confirmed, luck_.closed());
    }
    due_in_[line.arrives].push_back(index);
    news_.insert(line.bike);
  }

  void take_in(Day today) {
    const auto here = due_in_.find(today);
    if (here == due_in_.end()) return;
    for (const std::size_t index : here->second) {
      Line& line = lines_[index];
      const bool good = line.delivery.good;
      receipts_.push_back({.supplier = line.offer->supplier, .part = line.part,
                           .quantity = line.quantity, .ordered = *line.placed,
                           .promised = line.confirmed, .received = today,
                           .condition = good ? "good" : "damaged"});
      if (good) {
        line.here = today;
        news_.insert(line.bike);
        note_part(line, today);
      } else {
        ++line.attempt;
        place(index, today);
      }
    }
    due_in_.erase(here);
  }

  void note_part(const Line& arrived, Day today) {
    Bike& bike = bench_.bikes()[at(arrived.bike)];
    const auto missing = [&](bool kit_only) {
      return std::ranges::any_of(lines_, [&](const Line& line) {
        return line.bike == arrived.bike && !line.here && !(kit_only && line.may_follow);
      });
    };
    if (!bike.kit_here && !missing(true)) {
      bike.kit_here = true;
      Outcome& outcome = course_.orders[at(arrived.bike)];
      outcome.kit = today;
      outcome.last_part = catalogue_.group_of.at(arrived.part) + " from " +
                          arrived.offer->supplier.text;
      outcome.sent_again = arrived.attempt > 0;
      outcome.in_trouble = arrived.delivery.in_trouble;
      outcome.kit_place = knowledge_.kit_place(lines_, arrived.bike, outcome.agreed, today);
    }
    if (!bike.all_here && !missing(false)) bike.all_here = true;
  }

  void note_ready() {
    for (std::size_t place = 0; place < course_.orders.size(); ++place) {
      Outcome& outcome = course_.orders[place];
      const Bike& bike = bench_.bikes()[place];
      if (outcome.ready || bike.open > 0) continue;
      outcome.ready = kFirst + days(bike.ready / plan::kMinutesPerDay);
      knowledge_.note_ready(static_cast<int>(place), *outcome.ready);
      const int kit = static_cast<int>((outcome.kit.value_or(outcome.agreed) - kFirst).count());
      outcome.kit_wait_days = std::max(0, bike.begun / plan::kMinutesPerDay - kit);
    }
  }

  double on_shelf() const {
    double euros = 0;
    for (const Line& line : lines_) {
      if (line.here && !course_.orders[at(line.bike)].ready) {
        euros += static_cast<double>(line.cost.cents) / 100;
      }
    }
    return euros;
  }

  /// Every morning the shop is planned anew, and everybody told their part of today and tomorrow.
  void plan_day(Day today) {
    constexpr int kTold = 2 * plan::kMinutesPerDay;
    std::vector<Knowledge::Planned> last = std::move(plan_);
    for (Knowledge::Planned& job : last) job.start -= plan::kMinutesPerDay;
    plan_ = knowledge_.plan(bench_, lines_, today, kOpens, last);
    std::vector<std::vector<std::pair<int, int>>> by_person(catalogue_.files.people.size());
    will_do_.clear();
    for (const Knowledge::Planned& job : plan_) {
      if (job.start < kTold) by_person[at(job.person)].emplace_back(job.bike, job.job);
      // What waits for parts is nobody's to count on yet.
      if (job.start < kAhead * plan::kMinutesPerDay && bench_.bikes()[at(job.bike)].kit_here) {
        const auto day = static_cast<int>((today - kFirst).count()) +
                         job.start / plan::kMinutesPerDay;
        will_do_[{job.bike, job.job}] = {job.person, day};
      }
    }
    bench_.follow(std::move(by_person));
  }

  /// Without a plan, the coming days are run ahead as far as is known.
  void run_ahead(int day) {
    Bench ahead = bench_;
    ahead.expect();
    static_cast<void>(ahead.take_started());
    for (int later = day; later < day + kAhead; ++later) {
      ahead.begin_day(later, knowledge_.usual_shifts(kFirst + days(later), kFirst + days(day)));
      ahead.work(kOpens, kCloses);
    }
    will_do_.clear();
    for (const Bench::Started& start : ahead.take_started()) {
      will_do_[{start.bike, start.job}] = {start.person, start.day};
    }
  }

  /// What was told yesterday and is now another person's or another day's has moved.
  void count_moved(int day) {
    for (const auto& [what, who] : told_) {
      if (who.second < day) continue;
      const auto now = will_do_.find(what);
      if (now == will_do_.end() || now->second != who) ++moved_;
    }
    told_ = will_do_;
  }

  const Catalogue& catalogue_;
  const Running& running_;
  int last_;
  Luck luck_;
  Bench bench_;
  Knowledge knowledge_;
  std::vector<Agreed> orders_;
  std::size_t next_ = 0;
  std::vector<Line> lines_;
  std::vector<std::vector<std::size_t>> lines_of_;  // by bike
  std::set<int> news_;  // bikes of which a line was bought or came
  std::map<Day, std::vector<std::size_t>> due_in_;
  std::vector<trade::Receipt> receipts_;
  using WhoAndDay = std::map<std::pair<int, int>, std::pair<int, int>>;  // by bike and job
  WhoAndDay told_;
  WhoAndDay will_do_;
  std::vector<Knowledge::Planned> plan_;
  Course course_;
  int usual_slack_ = 14;
  double worked_ = 0;
  double at_work_ = 0;
  double moved_ = 0;
};

}  // namespace

Course run_shop(const Catalogue& catalogue, std::uint64_t seed, const Running& running) {
  return Run(catalogue, seed, running).course();
}

}  // namespace rollwright::bench
