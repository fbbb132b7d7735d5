#include "replan_shop.hpp"

#include <algorithm>
#include <array>
#include <string_view>

#include <fmt/format.h>

#include "base/random.hpp"
#include "plan/calendar.hpp"

namespace rollwright::bench {
namespace {

using namespace plan;

constexpr SkillSet kMechanic = 1, kWheels = 2, kDrive = 4, kSenior = 8, kStores = 16;
constexpr int kKits = 0, kWheelBench = 1, kFrames = 2, kAssembly = 3, kElectrics = 4;
constexpr int kDays = 180;
constexpr double kOrdersADay = 5.2;  // what these people finish on a working day, about

struct Hand {
  std::string_view days, hours;
  SkillSet skills;
  double productive;
};

constexpr std::array<Hand, 14> kHands = {{
    {"Mon-Fri", "9:00-12:30,13:00-18:00", kMechanic | kWheels | kDrive | kSenior, 0.65},
    {"Mon-Fri", "8:00-12:00,12:45-17:00", kMechanic | kDrive | kSenior, 0.7},
    {"Tue-Sat", "9:00-12:30,13:00-18:00", kMechanic | kWheels | kSenior, 0.7},
    {"Mon-Fri", "9:00-12:30,13:00-18:00", kMechanic, 0.75},
    {"Mon-Fri", "9:00-12:30,13:00-18:00", kMechanic, 0.7},
    {"Tue-Sat", "9:00-12:30,13:00-18:00", kMechanic | kDrive, 0.7},
    {"Mon-Fri", "8:15-14:00", kMechanic, 0.75},
    {"Mon,Wed,Fri", "9:00-12:30,13:00-18:00", kMechanic | kStores, 0.7},
    {"Mon-Fri", "9:00-12:30,13:00-18:00", kWheels, 0.75},
    {"Mon-Fri", "8:15-14:00", kWheels, 0.75},
    {"Tue,Thu", "9:00-12:30,13:00-18:00", kWheels | kMechanic, 0.7},
    {"Mon-Fri", "9:00-12:30,13:00-18:00", kMechanic | kDrive, 0.7},
    {"Mon-Fri", "8:00-12:00,12:30-16:00", kStores, 0.7},
    {"Mon-Thu", "9:00-12:30,13:00-18:00", kMechanic | kWheels, 0.65},
}};

/// One operation of the pattern that all invented builds follow; `after` counts within it.
struct Step {
  std::string_view what;
  double minutes;
  int area;
  bool on_bike;
  SkillSet any_of;
  std::array<int, 3> after;  // -1 where there is none
  Pause pause = Pause::kAnywhere;
  int unattended = 0;
  bool electric = false;
};

constexpr std::array<Step, 26> kSteps = {{
    {"kit", 20, kKits, false, kStores, {-1, -1, -1}},
    {"lace front", 28, kWheelBench, false, kWheels, {0, -1, -1}},
    {"true front", 30, kWheelBench, false, kWheels, {1, -1, -1}},
    {"lace rear", 30, kWheelBench, false, kWheels, {0, -1, -1}},
    {"true rear", 35, kWheelBench, false, kWheels, {3, -1, -1}},
    {"tyres", 14, kWheelBench, false, kMechanic | kWheels, {2, 4, -1}},
    {"face frame", 22, kFrames, true, kMechanic, {0, -1, -1}},
    {"bond inserts", 15, kFrames, true, kMechanic, {6, -1, -1}, Pause::kNever, 720},
    {"press bearings", 18, kFrames, true, kMechanic, {6, -1, -1}, Pause::kNever},
    {"headset", 15, kAssembly, true, kMechanic, {7, -1, -1}, Pause::kNever},
    {"cranks", 14, kAssembly, true, kMechanic, {8, -1, -1}},
    {"route cables", 35, kAssembly, true, kMechanic, {9, -1, -1}},
    {"hang wheels", 10, kAssembly, true, kMechanic, {5, 9, -1}},
    {"brakes", 24, kAssembly, true, kMechanic, {12, -1, -1}},
    {"bleed front", 20, kAssembly, true, kMechanic, {13, -1, -1}, Pause::kWithinDay},
    {"bleed rear", 22, kAssembly, true, kMechanic, {13, -1, -1}, Pause::kWithinDay},
    {"gears", 30, kAssembly, true, kMechanic, {10, 11, 12}},
    {"harness", 25, kElectrics, false, kDrive, {0, -1, -1}, Pause::kAnywhere, 0, true},
    {"motor", 40, kElectrics, true, kDrive, {17, 10, -1}, Pause::kAnywhere, 0, true},
    {"battery", 12, kElectrics, true, kDrive, {18, -1, -1}, Pause::kAnywhere, 300, true},
    {"firmware", 15, kElectrics, true, kDrive, {19, -1, -1}, Pause::kWithinDay, 0, true},
    {"lights", 22, kAssembly, true, kMechanic, {11, -1, -1}},
    {"contact points", 18, kAssembly, true, kMechanic, {9, -1, -1}},
    {"torque check", 20, kAssembly, true, kMechanic | kSenior, {14, 15, 16}},
    {"road test", 20, kAssembly, true, kMechanic, {23, 21, 22}, Pause::kWithinDay},
    {"second signature", 12, kAssembly, true, kSenior, {24, -1, -1}},
}};

class ShopMaker {
 public:
  ShopMaker(int orders, std::uint64_t seed) : orders_(orders), random_(seed) {}

  PlanInput run() {
    input_.first_day = *parse_day("2027-01-04");
    input_.days = kDays;
    input_.now = 9 * 60;
    input_.skills = {"mechanic", "wheelbuilder", "drive", "senior", "stores"};
    input_.areas = {{"kits", 2}, {"wheel bench", 4}, {"frames", 3}, {"assembly", 9},
                    {"electrics", 3}};
    input_.delivery_days = carrier_days({input_.first_day, kDays}, {});
    input_.disturbance = {.sick = 0.03, .walk_in_least = 0.1, .walk_in_most = 0.3};
    for (const Hand& hand : kHands) add_person(hand);
    for (int order = 0; order < orders_; ++order) add_order(order);
    return std::move(input_);
  }

 private:
  int below(int count) {
    return static_cast<int>(random_.below(static_cast<std::uint64_t>(count)));
  }

  void add_person(const Hand& hand) {
    const Day off = input_.first_day + std::chrono::days(below(60));
    input_.people.push_back(
        {.id = fmt::format("hand {}", input_.people.size() + 1),
         .skills = hand.skills,
         .hours = *working_windows(*parse_week(hand.days, hand.hours),
                                   {{off, off + std::chrono::days(below(8))}},
                                   {input_.first_day, kDays}),
         .productive = hand.productive});
  }

  void add_order(int number) {
    const double queue_days = number / kOrdersADay * 1.4;  // seven days for five of work
    Order order{.id = fmt::format("{}", 1000 + number)};
    order.weight = std::array{1.0, 1.0, 1.0, 2.0, 3.0}[random_.below(5)];
    if (below(10) != 0) {
      const int slack = below(14);
      order.due = input_.first_day + std::chrono::days(static_cast<int>(queue_days) + slack);
    }
    input_.orders.push_back(order);
    size_ = 0.6 + 0.9 * random_.uniform();  // a plain bike or one with everything
    add_tasks(number, below(5) < 2);
    // Parts come in about the turn of the orders; some are late for it.
    for (const int step : {0, 6, 12, 21}) {
      if (below(3) != 0 || !at_step(step)) continue;
      add_part(*at_step(step), fmt::format("parts {} of order {}", step, order.id), queue_days);
    }
  }

  std::optional<int> at_step(int step) const {
    return of_step_[static_cast<std::size_t>(step)];
  }

  void add_part(int task, std::string what, double queue_days) {
    Arrival arrival{.what = std::move(what)};
    const double days = queue_days * 1.1 * random_.uniform();
    if (below(2) == 0) {
      arrival.known = input_.first_day + std::chrono::days(static_cast<int>(days));
    } else {
      arrival.working_days = {.least = 1, .median = 1 + days / 2, .sigma = 0.4};
    }
    input_.tasks[static_cast<std::size_t>(task)].parts.push_back(
        static_cast<int>(input_.arrivals.size()));
    input_.arrivals.push_back(std::move(arrival));
  }

  void add_tasks(int order, bool electric) {
    of_step_ = {};
    for (std::size_t index = 0; index < kSteps.size(); ++index) {
      const Step& step = kSteps[index];
      if (step.electric && !electric) continue;
      of_step_[index] = static_cast<int>(input_.tasks.size());
      Task task{.id = fmt::format("{} {}", input_.orders.back().id, step.what),
                .order = order,
                .area = step.area,
                .on_bike = step.on_bike,
                .minutes = step.minutes * size_ * (0.8 + 0.4 * random_.uniform()),
                .any_of = step.any_of,
                .pause = step.pause,
                .unattended = step.unattended};
      task.spread = {.least = task.minutes * 0.6, .median = task.minutes * 0.4, .sigma = 0.4};
      for (const int before : step.after) {
        if (before >= 0 && at_step(before)) task.after.push_back(*at_step(before));
      }
      if (step.what == "torque check" && electric) task.after.push_back(*at_step(20));
      if (step.what == "second signature") task.not_by_doer_of = {*at_step(23), *at_step(24)};
      input_.tasks.push_back(std::move(task));
    }
    // Two more steps for the plain bikes, so that an order has about 25: mudguards and a rack.
    for (const std::string_view what : {"mudguards", "rack"}) {
      if (electric) continue;
      Task task{.id = fmt::format("{} {}", input_.orders.back().id, what),
                .order = order,
                .area = kAssembly,
                .minutes = 12 + 10 * random_.uniform(),
                .any_of = kMechanic,
                .after = {*at_step(12)}};
      task.spread = {.least = task.minutes * 0.6, .median = task.minutes * 0.4, .sigma = 0.4};
      input_.tasks[static_cast<std::size_t>(*at_step(23))].after.push_back(
          static_cast<int>(input_.tasks.size()));
      input_.tasks.push_back(std::move(task));
    }
  }

  int orders_;
  double size_ = 1;
  Random random_;
  PlanInput input_;
  std::array<std::optional<int>, kSteps.size()> of_step_;
};

}  // namespace

plan::PlanInput invented_shop(int orders, std::uint64_t seed) {
  return ShopMaker(orders, seed).run();
}

}  // namespace rollwright::bench
