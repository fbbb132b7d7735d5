#include "spec/count.hpp"

#include <boost/multiprecision/cpp_int.hpp>

#include "spec/best_bike.hpp"

namespace rollwright::spec {

namespace {

/// Ways: along an arc they multiply, where arcs meet they add up.
struct Counting {
  using Value = boost::multiprecision::number<boost::multiprecision::cpp_int_backend<
      512, 512, boost::multiprecision::unsigned_magnitude, boost::multiprecision::checked, void>>;
  inline static const Value kNothing = 1;
  inline static const Value kNone = 0;
  static Value along(const Value& a, const Value& b) { return a * b; }
  static Value better(const Value& a, const Value& b) { return a + b; }
  static bool is_none(const Value& a) { return a == 0; }
};

struct Ways {
  std::string bikes = "0";
  bool exact = true;
};

Ways ways(const Situation& situation, Facts facts) {
  const int level = worst_level(facts);
  if (situation.diagram.nothing || situation.diagram.base_level > level) return {};
  const Outlook outlook = outlook_of(situation, facts);
  const SweepInput<Counting> input{
      .diagram = situation.diagram, .level = level,
      .own = best_of_families<Counting>(situation, outlook,
                                        [](int, int) { return Counting::Value(1); })};
  return {Sweep<Counting>(input).whole().str(), outlook.sums.empty()};
}

}  // namespace

Result<Count> count(const Problem& problem, const Selection& selection,
                    const ChoicesSettings& settings) {
  const Compiled& compiled = problem.compiled();
  const Result<std::vector<Fixed>> fixed = fixed_by(compiled, selection);
  if (!fixed) return std::unexpected(fixed.error());
  if (compiled.known == nullptr) {
    return refuse(Code::kRefused, "this catalogue is too loose to count its bikes");
  }
  const Situations situations = situations_of(compiled, *fixed, *fixed, settings.arrivals);
  const Ways known = ways(situations.known, Facts::kKnown);
  if (!situations.possible) return Count{.fitting = known.bikes, .possible = "", .exact = false};
  const Ways any = ways(*situations.possible, Facts::kAny);
  return Count{.fitting = known.bikes, .possible = any.bikes, .exact = known.exact && any.exact};
}

}  // namespace rollwright::spec
