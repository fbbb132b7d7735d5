#include "spec/complete.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <set>

#include "spec/completion.hpp"
#include "spec/fewest_changes.hpp"
#include "spec/soonest.hpp"

namespace rollwright::spec {

namespace {

constexpr double kPartsOfACent = 1000;
constexpr std::int64_t kPastAllWeights = std::int64_t{1} << 50;

/// The bikes of one situation, those of which every fact is known when there are any.
class Bikes {
 public:
  Bikes(const Situations& situations, Budget& budget)
      : situation_(&situations.known), budget_(budget) {
    look(Facts::kKnown);
    if (exist_ || gave_up_ || !situations.possible) return;
    situation_ = &*situations.possible;
    look(Facts::kAny);
  }

  [[nodiscard]] bool exist() const { return exist_; }
  [[nodiscard]] bool gave_up() const { return gave_up_; }

  [[nodiscard]] std::vector<std::vector<Cost>> price_then_mass() const {
    return costs_by(*situation_, [](const Figure& f) { return Cost{f.price, f.mass}; });
  }
  [[nodiscard]] std::vector<std::vector<Cost>> mass_then_price() const {
    return costs_by(*situation_, [](const Figure& f) { return Cost{f.mass, f.price}; });
  }
  /// Thousandths of a cent. Fewer masses that are not known come before everything else, as soon as
  /// a kilogram is worth something.
  [[nodiscard]] std::vector<std::vector<Cost>> weighed(double cents_per_kg) const {
    return costs_by(*situation_, [cents_per_kg](const Figure& f) {
      const std::int64_t not_known = f.mass / Figure::kMassNotKnown;
      const double mass =
          static_cast<double>(f.mass % Figure::kMassNotKnown) * Figure::kMassUnit;
      const std::int64_t price = f.price * static_cast<std::int64_t>(kPartsOfACent);
      if (cents_per_kg <= 0) return Cost{price, f.price};
      return Cost{price + std::llround(mass * cents_per_kg * kPartsOfACent) +
                      not_known * kPastAllWeights,
                  f.price};
    });
  }

  /// As steep as from one bike to another: whole numbers, so that a bike that is cheaper or lighter
  /// always costs less. Fewer masses that are not known come before everything else.
  [[nodiscard]] std::vector<std::vector<Cost>> between(const BestBike& cheap,
                                                       const BestBike& light) const {
    constexpr std::int64_t kSteepest = std::int64_t{1} << 20;
    std::int64_t dearer = std::max<std::int64_t>(price_of(light) - price_of(cheap), 1);
    std::int64_t saved = std::max<std::int64_t>(
        mass_of(cheap) % Figure::kMassNotKnown - mass_of(light) % Figure::kMassNotKnown, 1);
    while (std::max(dearer, saved) > kSteepest) {
      dearer = std::max<std::int64_t>(dearer / 2, 1);
      saved = std::max<std::int64_t>(saved / 2, 1);
    }
    return costs_by(*situation_, [dearer, saved](const Figure& f) {
      return Cost{f.price * saved + f.mass % Figure::kMassNotKnown * dearer +
                      f.mass / Figure::kMassNotKnown * kPastAllWeights, 0};
    });
  }

  [[nodiscard]] BestBike best(const Outlook& outlook,
                              const std::vector<std::vector<Cost>>& costs) const {
    return best_bike({*situation_, outlook, level_, costs}, budget_);
  }
  [[nodiscard]] BestBike best_by(std::int32_t day,
                                 const std::vector<std::vector<Cost>>& costs) const {
    return best(here_by(*situation_, outlook_, day), costs);
  }
  [[nodiscard]] Soonest soonest() const {
    return soonest_bike(*situation_, outlook_, level_, budget_);
  }

  /// Days on which some part arrives, from the soonest bike's on.
  [[nodiscard]] std::vector<std::int32_t> days_that_matter() const {
    const Soonest first = soonest();
    std::set<std::int32_t> days = {first.day};
    for (const auto& figures : situation_->figures) {
      for (const Figure& figure : figures) {
        if (figure.day > first.day) days.insert(figure.day);
      }
    }
    return {days.begin(), days.end()};
  }

  [[nodiscard]] Completion told(const BestBike& best) const {
    Completion bike = completion_of(*situation_, best.candidates);
    bike.proven = best.state == BestBike::State::kFound;
    return bike;
  }

  [[nodiscard]] std::int32_t day_of(const BestBike& bike) const {
    std::int32_t day = std::numeric_limits<std::int32_t>::min();
    for (int d = 0; d < situation_->slots(); ++d) {
      day = std::max(day, situation_->figures[at(d)][at(bike.candidates[at(d)])].day);
    }
    return day;
  }
  [[nodiscard]] std::int64_t mass_of(const BestBike& bike) const {
    std::int64_t mass = 0;
    for (int d = 0; d < situation_->slots(); ++d) {
      mass += situation_->figures[at(d)][at(bike.candidates[at(d)])].mass;
    }
    return mass;
  }
  [[nodiscard]] std::int64_t price_of(const BestBike& bike) const {
    std::int64_t price = 0;
    for (int d = 0; d < situation_->slots(); ++d) {
      price += situation_->figures[at(d)][at(bike.candidates[at(d)])].price;
    }
    return price;
  }

 private:
  void look(Facts facts) {
    outlook_ = outlook_of(*situation_, facts);
    level_ = worst_level(facts);
    const BestBike cheapest = best(outlook_, price_then_mass());
    exist_ = !cheapest.candidates.empty();
    gave_up_ = cheapest.state == BestBike::State::kGaveUp;
  }

  const Situation* situation_;
  Budget& budget_;
  Outlook outlook_;
  int level_ = 2;
  bool exist_ = false;
  bool gave_up_ = false;
};

BestBike weighted_best(const Bikes& bikes, const Weights& weights) {
  const auto costs = bikes.weighed(weights.cents_per_kg);
  if (weights.cents_per_day <= 0) return bikes.best_by(Figure::kNever, costs);
  BestBike best;
  auto least = std::tuple(std::numeric_limits<double>::infinity(), std::int64_t{0});
  bool proven = true;
  for (const std::int32_t day : bikes.days_that_matter()) {
    BestBike bike = bikes.best_by(day, costs);
    proven &= bike.state != BestBike::State::kGaveUp;
    if (bike.candidates.empty()) continue;
    const double days = static_cast<double>(bikes.day_of(bike));
    const auto own = std::tuple(static_cast<double>(bike.cost.first) +
                                    days * weights.cents_per_day * kPartsOfACent,
                                bikes.price_of(bike));
    if (own >= least) continue;
    least = own;
    best = std::move(bike);
  }
  if (!best.candidates.empty() && !proven) best.state = BestBike::State::kGaveUp;
  return best;
}

BestBike answer_to(const Bikes& bikes, const CompletionQuestion& question) {
  switch (question.aim) {
    case Aim::kCheapest: return bikes.best_by(Figure::kNever, bikes.price_then_mass());
    case Aim::kLightest: return bikes.best_by(Figure::kNever, bikes.mass_then_price());
    case Aim::kSoonest: {
      const Soonest soonest = bikes.soonest();
      BestBike bike = bikes.best_by(soonest.day, bikes.price_then_mass());
      if (!soonest.proven) bike.state = BestBike::State::kGaveUp;
      return bike;
    }
    case Aim::kWeighted: return weighted_best(bikes, question.weights);
  }
  broken_promise("every aim has an answer", __FILE__, __LINE__);
}

/// What is compared when bikes are traded off.
struct Point {
  BestBike bike;
  std::int64_t price = 0;
  std::int64_t mass = 0;
  std::int32_t day = 0;

  [[nodiscard]] bool no_worse_than(const Point& other) const {
    return price <= other.price && mass <= other.mass && day <= other.day;
  }
  [[nodiscard]] bool same_as(const Point& other) const {
    return price == other.price && mass == other.mass && day == other.day;
  }
};

void add(const Bikes& bikes, BestBike bike, std::vector<Point>& points) {
  if (bike.candidates.empty()) return;
  Point point{.bike = std::move(bike)};
  point.price = bikes.price_of(point.bike);
  point.mass = bikes.mass_of(point.bike);
  point.day = bikes.day_of(point.bike);
  if (std::ranges::any_of(points, [&](const Point& p) { return p.no_worse_than(point); })) return;
  std::erase_if(points, [&](const Point& p) { return point.no_worse_than(p); });
  points.push_back(std::move(point));
}

/// Of the bikes that cost the same, one that is here soonest.
BestBike soonest_of_same(const Bikes& bikes, BestBike bike,
                         const std::vector<std::vector<Cost>>& costs) {
  constexpr std::int32_t kAlways = Figure{}.day;  // nothing is sooner than what is there already
  while (!bike.candidates.empty() && bikes.day_of(bike) > kAlways) {
    BestBike sooner = bikes.best_by(bikes.day_of(bike) - 1, costs);
    if (sooner.candidates.empty() || sooner.cost != bike.cost) return bike;
    bike = std::move(sooner);
  }
  return bike;
}

/// For every day that matters: the cheapest, the lightest and one between, as steep as from the one
/// to the other. Each is best for its day, so that nothing beats it but one of these that is as
/// good and earlier: the cheapest and the lightest come up again on their own day, the one between
/// is looked for there.
std::vector<Point> unbeaten(const Bikes& bikes) {
  std::vector<Point> points;
  const auto by_price = bikes.price_then_mass();
  const auto by_mass = bikes.mass_then_price();
  for (const std::int32_t day : bikes.days_that_matter()) {
    BestBike cheapest = bikes.best_by(day, by_price);
    if (cheapest.candidates.empty()) continue;
    BestBike lightest = bikes.best_by(day, by_mass);
    if (bikes.mass_of(cheapest) > bikes.mass_of(lightest)) {
      const auto costs = bikes.between(cheapest, lightest);
      add(bikes, soonest_of_same(bikes, bikes.best_by(day, costs), costs), points);
    }
    add(bikes, std::move(cheapest), points);
    add(bikes, std::move(lightest), points);
  }
  return points;
}

/// How far two bikes are apart, each figure against its spread.
double distance(const Point& a, const Point& b, const Point& spread) {
  const auto part = [](double difference, double of) {
    return of > 0 ? std::abs(difference) / of : 0;
  };
  return part(static_cast<double>(a.price - b.price), static_cast<double>(spread.price)) +
         part(static_cast<double>(a.mass - b.mass), static_cast<double>(spread.mass)) +
         part(a.day - b.day, spread.day);
}

/// Keeps the cheapest, the lightest and the soonest, then always the one farthest from all kept.
std::vector<Point> spread_out(std::vector<Point> points, std::size_t most) {
  const auto [cheap, dear] = std::ranges::minmax_element(
      points, {}, [](const Point& p) { return std::tuple(p.price, p.mass); });
  const auto [light, heavy] = std::ranges::minmax_element(
      points, {}, [](const Point& p) { return std::tuple(p.mass, p.price); });
  const auto [soon, late] = std::ranges::minmax_element(
      points, {}, [](const Point& p) { return std::tuple(p.day, p.price); });
  const Point spread{.bike = {}, .price = dear->price - cheap->price,
                     .mass = heavy->mass - light->mass, .day = late->day - soon->day};
  std::vector<std::size_t> kept;
  const auto keep = [&](std::size_t i) {
    if (kept.size() < most && std::ranges::find(kept, i) == kept.end()) kept.push_back(i);
  };
  for (const auto& extreme : {cheap, light, soon}) {
    keep(static_cast<std::size_t>(extreme - points.begin()));
  }
  while (kept.size() < std::min(most, points.size())) {
    const auto loneliness = [&](std::size_t i) {
      double least = std::numeric_limits<double>::infinity();
      for (const std::size_t k : kept) least = std::min(least, distance(points[i], points[k], spread));
      return least;
    };
    std::size_t farthest = points.size();
    for (std::size_t i = 0; i < points.size(); ++i) {
      if (std::ranges::find(kept, i) != kept.end()) continue;
      if (farthest == points.size() || loneliness(i) > loneliness(farthest)) farthest = i;
    }
    kept.push_back(farthest);
  }
  std::ranges::sort(kept, {}, [&](std::size_t i) { return points[i].price; });
  std::vector<Point> result;
  for (const std::size_t i : kept) result.push_back(std::move(points[i]));
  return result;
}

struct Asked {
  Situations situations;
  Budget budget;
};

Result<Asked> asked(const Problem& problem, const Selection& selection,
                    const ChoicesSettings& settings) {
  const Compiled& compiled = problem.compiled();
  const Result<std::vector<Fixed>> fixed = fixed_by(compiled, selection);
  if (!fixed) return std::unexpected(fixed.error());
  if (compiled.known == nullptr) {
    return refuse(Code::kRefused,
                  "this catalogue is too loose to fill up a bike by itself; choose more parts");
  }
  return Asked{situations_of(compiled, *fixed, *fixed, settings.arrivals),
               Budget{.left = settings.most_steps}};
}

std::unexpected<Error> no_bike(const Bikes& bikes) {
  return refuse(Code::kRefused, bikes.gave_up()
                                    ? "the search ended before it found a complete bike"
                                    : "no complete bike contains these choices");
}

}  // namespace

Result<Completion> complete(const Problem& problem, const Selection& selection,
                            const CompletionQuestion& question, const ChoicesSettings& settings) {
  const Weights& weights = question.weights;
  if (!(weights.cents_per_kg >= 0 && weights.cents_per_day >= 0)) {
    return refuse(Code::kOutOfRange, "a kilogram or a day less is worth nothing or more, not less");
  }
  auto in = asked(problem, selection, settings);
  if (!in) return std::unexpected(in.error());
  const Bikes bikes(in->situations, in->budget);
  if (!bikes.exist()) return no_bike(bikes);
  const BestBike best = answer_to(bikes, question);
  if (best.candidates.empty()) {
    return refuse(Code::kRefused, "the search ended before it found the best bike");
  }
  return bikes.told(best);
}

Result<std::vector<Completion>> trade_offs(const Problem& problem, const Selection& selection,
                                           int most, const ChoicesSettings& settings) {
  auto in = asked(problem, selection, settings);
  if (!in) return std::unexpected(in.error());
  const Bikes bikes(in->situations, in->budget);
  if (!bikes.exist()) return no_bike(bikes);
  std::vector<Completion> result;
  for (const Point& point : spread_out(unbeaten(bikes), at(std::max(most, 1)))) {
    result.push_back(bikes.told(point.bike));
  }
  return result;
}

}  // namespace rollwright::spec
