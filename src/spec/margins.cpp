#include "spec/margins.hpp"

#include <algorithm>
#include <optional>
#include <utility>

#include "spec/pruned.hpp"
#include "spec/soonest.hpp"

namespace rollwright::spec {

namespace {

constexpr int kWorstKnown = worst_level(Facts::kKnown);
constexpr int kWorstPossible = worst_level(Facts::kAny);

/// A figure for the whole and for every candidate; `is_none` where there is no bike.
struct Answers {
  struct Answer {
    std::int64_t value = 0;
    bool exists = false;
    bool proven = true;
  };
  Answer whole;
  std::vector<std::vector<Answer>> by_candidate;
};

/// The sweeps of one outlook.
class Asker {
 public:
  Asker(const Situation& situation, Facts facts, Budget& budget)
      : outlook_(outlook_of(situation, facts)),
        pruned_(pruned_where_decided(situation, outlook_, worst_level(facts))),
        situation_{.compiled = situation.compiled,
                   .diagram = pruned_ ? *pruned_ : situation.diagram,
                   .has_days = situation.has_days, .decided = situation.decided,
                   .offered = situation.offered, .figures = situation.figures},
        budget_(budget) {}
  Asker(const Asker&) = delete;  // the situation points into the asker
  Asker& operator=(const Asker&) = delete;

  /// Least of what costs add up to, over bikes no worse than `level`.
  template <class Base, class Get>
  Answers least(int level, Get get) {
    if (outlook_.sums.empty()) return plain<Base>(level, get);
    const auto search = [&] { return searched<Base>(level, get); };
    return outlook_.sums.size() == 1 ? watched<Base, 1>(level, get, search)
                                     : watched<Base, 2>(level, get, search);
  }

  /// Best verdict, over bikes no worse than `level`.
  Answers verdicts(int level) {
    const auto nothing = [](const Figure&) { return std::int32_t{0}; };
    const auto search = [&] { return searched_verdict(level); };
    if (outlook_.sums.size() == 1) return watched<Latest, 1>(level, nothing, search, true);
    if (outlook_.sums.size() > 1) return watched<Latest, 2>(level, nothing, search, true);
    const SweepInput<Latest> input{
        .diagram = situation_.diagram, .level = level,
        .own = best_of_families<Latest>(situation_, outlook_, [](int, int) { return 0; }),
        .with_levels = true};
    return gathered<Latest>(input, [](int, int) { return 0; });
  }

 private:
  template <class Base, class Get>
  Answers plain(int level, Get get) {
    const auto value_of = [&](int d, int i) { return get(situation_.figures[at(d)][at(i)]); };
    const SweepInput<Base> input{.diagram = situation_.diagram, .level = level,
                                 .own = best_of_families<Base>(situation_, outlook_, value_of)};
    return gathered<Base>(input, value_of);
  }

  template <class Base, class ValueOf>
  Answers gathered(const SweepInput<Base>& input, ValueOf value_of) {
    Sweep<Base> sweep(input);
    const auto around = sweep.around();
    Answers answers;
    answers.whole = answer<Base>(sweep.whole());
    for_each_candidate(answers, [&](int d, int i, int family) {
      return answer<Base>(Base::along(around[at(d)][at(family)], value_of(d, i)));
    });
    return answers;
  }

  template <class Base>
  static Answers::Answer answer(typename Base::Value value) {
    return {.value = value, .exists = !Base::is_none(value)};
  }

  template <class AnswerOf>
  void for_each_candidate(Answers& answers, AnswerOf answer_of) {
    for (int d = 0; d < situation_.slots(); ++d) {
      auto& row = answers.by_candidate.emplace_back(situation_.offered[at(d)].size());
      for (int i = 0; i < static_cast<int>(row.size()); ++i) {
        if (outlook_.usable[at(d)][at(i)] == 0) continue;
        const int family = situation_.diagram.slots[at(d)].family_of[at(i)];
        row[at(i)] = answer_of(d, i, family);
      }
    }
  }

  /// With the amounts of the best bike beside its cost: where they keep the limits, the bike that
  /// leaves the sums aside is also the best that keeps them.
  template <class Base, std::size_t sums, class Get, class Search>
  Answers watched(int level, Get get, Search search, bool with_levels = false) {
    question_.reset();
    using Watched = Watching<Base, sums>;
    const auto value_of = [&](int d, int i) {
      typename Watched::Value value{.cost = get(situation_.figures[at(d)][at(i)])};
      for (std::size_t s = 0; s < sums; ++s) {
        value.amount[s] = outlook_.sums[s].amount[at(d)][at(i)];
        value.limit[s] = outlook_.sums[s].limit[at(d)][at(i)];
      }
      return value;
    };
    const SweepInput<Watched> input{
        .diagram = situation_.diagram, .level = level,
        .own = best_of_families<Watched>(situation_, outlook_, value_of),
        .with_levels = with_levels};
    Sweep<Watched> sweep(input);
    const auto around = sweep.around();
    const auto settled = [&](const typename Watched::Value& value) {
      if (Watched::is_none(value)) return Answers::Answer{};
      if (keeps_limits(value)) return Answers::Answer{.value = value.cost, .exists = true};
      return search();
    };
    Answers answers;
    answers.whole = settled(sweep.whole());
    for_each_candidate(answers, [&](int d, int i, int family) {
      const int before = std::exchange(situation_.decided[at(d)], i);
      const Answers::Answer answer =
          settled(Watched::along(around[at(d)][at(family)], value_of(d, i)));
      situation_.decided[at(d)] = before;
      return answer;
    });
    return answers;
  }

  template <class Value>
  [[nodiscard]] bool keeps_limits(const Value& value) const {
    for (std::size_t s = 0; s < outlook_.sums.size(); ++s) {
      if (value.amount[s] > std::min(value.limit[s], outlook_.sums[s].limit_of_all)) return false;
    }
    return true;
  }

  template <class Base, class Get>
  Answers::Answer searched(int level, Get get) {
    if constexpr (std::is_same_v<Base, Latest>) {
      const Soonest soonest = soonest_bike(situation_, outlook_, level, budget_);
      return {.value = soonest.day, .exists = soonest.exists, .proven = soonest.proven};
    } else {
      if (!question_ || question_level_ != level) begin(level, get);
      Budget own{.left = std::min(budget_.left, kStepsForOne)};
      const BestBike best = best_bike(*question_, own);
      budget_.left -= own.spent;
      budget_.spent += own.spent;
      return {.value = best.cost.first, .exists = !best.candidates.empty(),
              .proven = best.state != BestBike::State::kGaveUp};
    }
  }

  Answers::Answer searched_verdict(int worst) {
    const auto mass = [](const Figure& figure) { return figure.mass; };
    Answers::Answer answer;
    for (int level = 0; level <= worst && !answer.exists; ++level) {
      const Answers::Answer found = searched<Adding>(level, mass);
      answer = {.value = level, .exists = found.exists, .proven = answer.proven && found.proven};
    }
    return answer;
  }

  /// Costs and worth are the same for every candidate that one call asks about.
  template <class Get>
  void begin(int level, Get get) {
    question_.emplace(BikeQuestion{
        .situation = situation_, .outlook = outlook_, .level = level,
        .costs = costs_by(situation_, [&](const Figure& figure) { return Cost{get(figure), 0}; })});
    question_->worth = worth_of_amount(*question_);
    question_level_ = level;
  }

  /// One candidate whose answer is hard must not use up what the others need.
  static constexpr long long kStepsForOne = 20'000;

  /// Pruning pays when something is decided.
  static std::optional<Diagram> pruned_where_decided(const Situation& situation,
                                                     const Outlook& outlook, int level) {
    const bool some = std::ranges::any_of(situation.decided, [](int i) { return i >= 0; });
    if (!some || situation.diagram.nothing) return std::nullopt;
    return pruned(situation, outlook, level);
  }

  const Outlook outlook_;
  const std::optional<Diagram> pruned_;
  Situation situation_;  // with one more slot decided while that is asked about
  std::optional<BikeQuestion> question_;
  int question_level_ = -1;
  Budget& budget_;
};

/// Price, mass and day over bikes no worse than one level.
struct Figures {
  Answers price;
  Answers mass;
  std::optional<Answers> day;
};

Bests bests_of(const Answers::Answer& price, const Answers::Answer& mass,
               const Answers::Answer* day) {
  Bests best{.proven = price.proven && mass.proven && (day == nullptr || day->proven)};
  if (price.exists && price.proven) best.price = Money{price.value};
  if (mass.exists && mass.proven) {
    best.masses_not_known = static_cast<int>(mass.value / Figure::kMassNotKnown);
    best.mass = static_cast<double>(mass.value % Figure::kMassNotKnown) * Figure::kMassUnit * kg;
  }
  if (day != nullptr && day->exists && day->proven && day->value < Figure::kNever &&
      day->value != Latest::kNothing) {
    best.ready = Day{std::chrono::days(day->value)};
  }
  return best;
}

class Margining {
 public:
  Margining(const Situations& situations, Budget& budget)
      : situations_(situations), budget_(budget) {}

  Margins run() {
    for (const auto& offered : situations_.known.offered) {
      result_.by_candidate.emplace_back(offered.size());
    }
    settle_known();
    if (!situations_.possible) {
      leave_open();
    } else {
      settle_possible();
    }
    return std::move(result_);
  }

 private:
  /// Calls visit(margin, answer of the same candidate in each of `answers`).
  template <class Visit>
  void for_each(Visit visit) {
    visit(result_.whole, [](const Answers& answers) { return answers.whole; });
    for (std::size_t d = 0; d < result_.by_candidate.size(); ++d) {
      for (std::size_t i = 0; i < result_.by_candidate[d].size(); ++i) {
        visit(result_.by_candidate[d][i],
              [d, i](const Answers& answers) { return answers.by_candidate[d][i]; });
      }
    }
  }

  void settle_known() {
    const Diagram& diagram = situations_.known.diagram;
    if (diagram.nothing || diagram.base_level > kWorstKnown) return;
    const int base = diagram.base_level;
    Asker known(situations_.known, Facts::kKnown, budget_);
    const Figures figures = figures_of(known, kWorstKnown);
    const Answers verdicts = known.verdicts(kWorstKnown);
    for_each([&](Margins::Margin& margin, auto of) {
      const Answers::Answer verdict = of(verdicts);
      if (verdict.exists) {
        margin.status =
            static_cast<Status>(std::max({static_cast<int>(verdict.value), base, 0}));
      }
      if (!verdict.proven) margin.status = Status::kNotProven;
    });
    fill(figures, [](Status status) { return status <= Status::kOpenWithCare; });
  }

  /// Whether more is possible with facts that are not known cannot be told from here.
  void leave_open() {
    for_each([](Margins::Margin& margin, auto) {
      if (margin.status < Status::kNotKnown) return;
      margin.status = Status::kNotProven;
      margin.best.proven = false;
    });
  }

  void settle_possible() {
    if (situations_.possible->diagram.nothing) return;
    Asker any(*situations_.possible, Facts::kAny, budget_);
    const Figures figures = figures_of(any, kWorstPossible);
    for_each([&](Margins::Margin& margin, auto of) {
      if (margin.status < Status::kNotKnown) return;
      const Answers::Answer price = of(figures.price);
      const Answers::Answer mass = of(figures.mass);
      const bool exists = price.exists || mass.exists;
      if (!exists && !price.proven && !mass.proven) margin.status = Status::kNotProven;
      if (exists && margin.status == Status::kClosed) margin.status = Status::kNotKnown;
    });
    fill(figures, [](Status status) { return status == Status::kNotKnown; });
    for_each([](Margins::Margin& margin, auto) {
      if (margin.status == Status::kNotProven) margin.best.proven = false;
    });
  }

  template <class Concerns>
  void fill(const Figures& figures, Concerns concerns) {
    for_each([&](Margins::Margin& margin, auto of) {
      if (!concerns(margin.status)) return;
      const Answers::Answer day = figures.day ? of(*figures.day) : Answers::Answer{};
      margin.best = bests_of(of(figures.price), of(figures.mass), figures.day ? &day : nullptr);
    });
  }

  static Answers masses(Asker& asker, int level) {
    return asker.least<Adding>(level, [](const Figure& figure) { return figure.mass; });
  }

  Figures figures_of(Asker& asker, int level) const {
    Figures figures{
        .price = asker.least<Adding>(level, [](const Figure& figure) { return figure.price; }),
        .mass = masses(asker, level), .day = {}};
    if (situations_.known.has_days) {
      figures.day = asker.least<Latest>(level, [](const Figure& figure) { return figure.day; });
    }
    return figures;
  }

  const Situations& situations_;
  Budget& budget_;
  Margins result_;
};

}  // namespace

Margins margins_of(const Situations& situations, Budget& budget) {
  return Margining(situations, budget).run();
}

}  // namespace rollwright::spec
