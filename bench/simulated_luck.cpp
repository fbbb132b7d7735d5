#include "simulated_luck.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <numbers>

#include "base/index.hpp"
#include "base/working_days.hpp"
#include "trade/spread.hpp"

namespace rollwright::bench {
namespace {

using std::chrono::days;

/// Shares of the builds B1 to B5, invented.
constexpr std::pair<std::string_view, double> kMix[] = {
    {"B1", 0.34}, {"B2", 0.22}, {"B3", 0.16}, {"B4", 0.18}, {"B5", 0.10}};

double between(Random& random, double least, double most) {
  return least + (most - least) * random.uniform();
}

double exponential(Random& random, double mean) { return -mean * std::log(1 - random.uniform()); }

/// Marsaglia and Tsang's method (from memory), shape at least 1, mean 1.
double gamma_of_mean_one(Random& random, double shape) {
  const double d = shape - 1.0 / 3;
  const double c = 1 / std::sqrt(9 * d);
  while (true) {
    const double x = random.normal();
    const double v = std::pow(1 + c * x, 3);
    if (v <= 0) continue;
    if (std::log(1 - random.uniform()) < 0.5 * x * x + d - d * v + d * std::log(v)) {
      return d * v / shape;
    }
  }
}

/// Weibull with middle 1.
double weibull(Random& random, double shape) {
  return std::pow(-std::log(1 - random.uniform()) / std::numbers::ln2, 1 / shape);
}

const trade::Spread& row_of(const trade::LeadTimePrior& prior, const std::string& road) {
  if (road == "made") return prior.made;
  return road == "importer" ? prior.importer : prior.stocked;
}

/// Small things lie on the shelf more often than not.
double on_shelf(const std::string& group) {
  const bool small = group == "small parts" || group == "tyres and contact parts" ||
                     group == "boxes and packing";
  return small ? 0.7 : 0.15;
}

/// Windows with the gap [from, to) cut out.
void cut(std::vector<plan::Window>& windows, int from, int to) {
  std::vector<plan::Window> left;
  for (const plan::Window& window : windows) {
    if (window.from < std::min(window.to, from)) {
      left.push_back({window.from, std::min(window.to, from)});
    }
    if (std::max(window.from, to) < window.to) {
      left.push_back({std::max(window.from, to), window.to});
    }
  }
  windows = std::move(left);
}

}  // namespace

bool leave_out(Laws& laws, const std::string& name) {
  const std::pair<std::string_view, bool Laws::*> names[] = {
      {"trouble", &Laws::trouble},   {"not-good", &Laws::not_good}, {"astray", &Laws::astray},
      {"own-ways", &Laws::own_ways}, {"spells", &Laws::spells},     {"holidays", &Laws::holidays},
      {"seasons", &Laws::seasons}};
  for (const auto& [known, law] : names) {
    if (known != name) continue;
    laws.*law = false;
    return true;
  }
  return false;
}

Luck::Luck(std::uint64_t seed, const Catalogue& catalogue, Day first, int days, const Laws& laws)
    : seed_(seed), catalogue_(catalogue), first_(first), days_(days), laws_(laws) {
  const std::chrono::year start = std::chrono::year_month_day(first).year();
  for (int year = 0; year <= days / 365 + 1; ++year) {
    for (const unsigned day : {24u, 25u, 26u, 31u}) {
      closed_.push_back(Day((start + std::chrono::years(year)) / 12 / std::chrono::day(day)));
    }
    closed_.push_back(Day((start + std::chrono::years(year)) / 1 / 1));
  }
  for (const trade::Person& person : catalogue.files.people) {
    Random random = named("pace " + person.id.text);
    paces_.push_back(person.productive * (laws.own_ways ? between(random, 0.88, 1.1) : 1));
  }
  add_trouble();
  add_absences();
}

Random Luck::named(const std::string& name) const {
  std::uint64_t hash = 0xcbf29ce484222325ULL ^ seed_;  // FNV-1a
  for (const char letter : name) {
    hash = (hash ^ static_cast<unsigned char>(letter)) * 0x100000001b3ULL;
  }
  return Random(hash).split(seed_);
}

std::size_t Luck::index(Day day) const {
  return at(std::clamp(static_cast<int>((day - first_).count()), 0, days_ - 1));
}

double Luck::season(Day day) const {
  if (!laws_.seasons) return 0;
  const std::chrono::year_month_day date(day);
  const auto of_year = (day - Day(date.year() / 1 / 1)).count();
  constexpr double kBest = 115;  // late in April
  return std::cos(2 * std::numbers::pi * (static_cast<double>(of_year) - kBest) / 365);
}

void Luck::add_trouble() {
  for (const trade::Supplier& supplier : catalogue_.files.suppliers) {
    Random random = named("trouble " + supplier.id.text);
    std::vector<double>& factors = trouble_[supplier.id.text];
    factors.assign(at(days_), 1);
    if (!laws_.trouble) continue;
    double day = exponential(random, 150);
    while (day < days_) {
      const double end = day + between(random, 14, 49);
      const double factor = between(random, 1.4, 2.3);
      for (double in = day; in < std::min<double>(end, days_); in += 1) {
        factors[static_cast<std::size_t>(in)] = factor;
      }
      day = end + exponential(random, 190);
    }
  }
}

void Luck::add_absences() {
  for (const trade::Person& person : catalogue_.files.people) {
    Random random = named("away " + person.id.text);
    holidays_.emplace_back();
    for (int year = 0; laws_.holidays && year * 365 < days_; ++year) {
      const Day start = first_ + days(year * 365);
      for (const int length : {14, 7, 7}) {
        const Day from = start + days(static_cast<int>(random.below(358)));
        holidays_.back().emplace_back(from, from + days(length - 1));
      }
    }
    std::vector<char> ill(at(days_), 0);
    for (int day = 0; day < days_; ++day) {
      if (!laws_.spells) ill[at(day)] = random.uniform() < 0.03 ? 1 : 0;
      if (!laws_.spells || random.uniform() >= 0.008) continue;
      const int until = day + 1 + static_cast<int>(exponential(random, 3.5));
      for (; day < std::min(until, days_); ++day) ill[at(day)] = 1;
    }
    ill_.push_back(std::move(ill));
  }
}

std::vector<Agreed> Luck::orders(double a_week) const {
  Random random = named("orders");
  std::vector<Agreed> result;
  for (int index = 0; index < days_; ++index) {
    const Day day = first_ + days(index);
    if (!is_working_day(day, closed_)) continue;
    double left = a_week / 5 * (1 + 0.3 * season(day)) - exponential(random, 1);
    for (; left > 0; left -= exponential(random, 1)) {
      double of_mix = random.uniform();
      std::size_t build = 0;
      while (build + 1 < std::size(kMix) && of_mix >= kMix[build].second) {
        of_mix -= kMix[build++].second;
      }
      std::vector<int> such;
      for (std::size_t design = 0; design < catalogue_.designs.size(); ++design) {
        const bool same = catalogue_.designs[design].build == kMix[build].first;
        if (same) such.push_back(static_cast<int>(design));
      }
      Agreed order{.id = std::to_string(1001 + result.size()), .day = day};
      order.design = such[random.below(such.size())];
      order.parts = catalogue_.varied(catalogue_.designs[at(order.design)], random);
      std::erase_if(order.parts, [&](const WantedPart& wanted) {
        return random.uniform() < on_shelf(catalogue_.group_of.at(wanted.part));
      });
      result.push_back(std::move(order));
    }
  }
  return result;
}

Delivery Luck::delivery(const trade::Offer& offer, const std::string& line, Day placed) const {
  const std::string& supplier = offer.supplier.text;
  const std::string& group = catalogue_.group_of.at(offer.part);
  Random of_supplier = named("supplier " + supplier);
  Random of_group = named("group " + supplier + group + offer.availability);
  Random random = named("line " + line);
  const trade::Spread& row = row_of(catalogue_.trade.lead_times.at(group), offer.availability);
  const double bad_share = between(of_supplier, 0.02, 0.08);
  const double own = between(of_supplier, 0.65, 1.45) * between(of_group, 0.75, 1.35);
  const double usual = trade::quantile(row, 0.5) * (laws_.own_ways ? own : 1);
  double factor = 0.35 + 0.65 * weibull(random, between(of_group, 1.2, 2.6));
  if (random.uniform() < 0.04 && laws_.astray) factor *= between(random, 2, 3.5);
  const Day middle = add_working_days(placed, static_cast<int>(usual / 2), closed_);
  const std::vector<double>& trouble = trouble_.at(supplier);
  const double troubled = std::max(trouble[index(placed)], trouble[index(middle)]);
  factor *= troubled * (1 + 0.1 * season(placed));
  Delivery delivery{.working_days = std::max(1, static_cast<int>(std::ceil(usual * factor))),
                    .in_trouble = troubled > 1};
  delivery.good = random.uniform() >= bad_share || !laws_.not_good;
  // The supplier knows half of what will come, and hopes.
  const double said = (0.5 + 0.5 * factor) * usual * between(random, 0.75, 1.1);
  if (random.uniform() < 0.75) delivery.confirmed = std::max(1, static_cast<int>(said));
  return delivery;
}

double Luck::minutes(const std::string& order, const trade::Operation& operation) const {
  Random of_bike = named("bike " + order);
  Random random = named("work " + order + operation.id);
  const double middle = (operation.minutes_low + operation.minutes_high) / 2;
  double factor = gamma_of_mean_one(random, 7) *
                  (laws_.own_ways ? gamma_of_mean_one(of_bike, 40) : 1);
  if (random.uniform() < 0.04 && laws_.astray) factor *= between(random, 2, 4);
  return std::max(1.0, middle * factor);
}

bool Luck::is_away(int person, Day day) const {
  if (std::ranges::find(closed_, day) != closed_.end() || is_ill(person, day)) return true;
  return std::ranges::any_of(holidays_[at(person)], [&](const auto& span) {
    return span.first <= day && day <= span.second;
  });
}

std::vector<plan::Window> Luck::at_work(int person, Day day) const {
  if (is_away(person, day)) return {};
  const trade::Person& who = catalogue_.files.people[at(person)];
  const auto weekday = std::chrono::weekday(day).iso_encoding() - 1;
  std::vector<plan::Window> windows;
  for (const auto& [from, to] : who.week[weekday]) windows.push_back({from, to});
  if (windows.empty()) return {};
  Random random = named("visits " + who.id.text + std::to_string(day.time_since_epoch().count()));
  const double share = (0.30 + 0.08 * season(day)) * between(random, 0.6, 1.4);
  constexpr double kVisit = 40;  // minutes, in the mean
  const double gap = kVisit * (1 - share) / share;
  const int end = windows.back().to;
  double minute = windows.front().from + exponential(random, gap);
  while (minute < end) {
    const double until = minute + 15 + exponential(random, kVisit - 15);
    cut(windows, static_cast<int>(minute), static_cast<int>(until));
    minute = until + exponential(random, gap);
  }
  return windows;
}

std::vector<std::pair<Day, Day>> Luck::known_away(int person, Day today) const {
  std::vector<std::pair<Day, Day>> known;
  for (const auto& span : holidays_[at(person)]) {
    if (span.first - today <= days(56)) known.push_back(span);
  }
  return known;
}

}  // namespace rollwright::bench
