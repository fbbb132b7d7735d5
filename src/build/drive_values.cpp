#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/text.hpp"
#include "build/calculations.hpp"
#include "mech/assist.hpp"
#include "mech/belt.hpp"
#include "mech/chain.hpp"

namespace rollwright::build {
namespace {

int whole(double number) { return static_cast<int>(std::lround(number)); }

/// ", 187 N in a free span of 430 mm" when the belt's mass and the drive are known; a help for
/// those who measure force instead of pitch, so it asks nothing.
std::string tension_note(const FactReader& facts, double hertz_wanted) {
  const auto front = facts.number_if_known("chainring", "teeth");
  const auto rear = facts.number_if_known("rear_sprocket", "teeth");
  const auto belt = facts.number_if_known("belt", "belt_teeth");
  const auto pitch = facts.number_if_known("belt", "pitch");
  const auto mass = facts.number_if_known("belt", "mass");
  if (!front || !rear || !belt || !pitch || !mass) return "";
  const auto run = mech::belt_run({whole(*front), whole(*rear), *pitch * mm}, whole(*belt));
  if (!run) return "";
  const double metres = *belt * *pitch / 1000;
  const auto force =
      mech::belt_tension({*mass / metres * kg_per_metre, run->span}, hertz_wanted * hertz);
  if (!force) return "";
  return fmt::format("; about {} N in a free span of {} mm", rounded(force->in(newton), 0),
                     rounded(run->span.in(mm), 0));
}

/// The law's row for an assist class of the order; the words of both are kept apart.
struct AssistWord {
  std::string_view assist_class;
  std::string_view law;
};
constexpr AssistWord kAssistWords[] = {
    {"25 km/h", "eu-pedelec"}, {"45 km/h", "eu-l1e-b"}, {"class 1", "us-class-1"},
    {"class 2", "us-class-2"}, {"class 3", "us-class-3"},
};

void compare_with_supplied(FactReader& facts, int links) {
  const auto supplied = facts.number_if_known("chain", "links");
  if (!supplied || whole(*supplied) >= links) return;
  facts.ask(fmt::format("{} has {} links; this bike needs {}", facts.named("chain"),
                        plain(*supplied), links));
}

/// Links for the largest pair; a derailleur's rule or the straight chain of a hub gear.
std::optional<Result<int>> links_needed(FactReader& facts) {
  const bool hub_gear = facts.filled("rear_sprocket");
  const auto front = facts.number("chainring", "teeth");
  const auto rear = hub_gear ? facts.number("rear_sprocket", "teeth")
                             : facts.number("cassette", "cog_max");
  const auto chainstay = facts.number("frame", "chainstay");
  if (!front || !rear || !chainstay) return std::nullopt;
  const mech::ChainDrive drive{whole(*front), whole(*rear), *chainstay * mm};
  if (!hub_gear) return mech::derailleur_chain_links(drive);
  const Result<mech::ChainLinks> links = mech::chain_links(drive);
  if (!links) return Result<int>(std::unexpected(links.error()));
  return Result<int>(links->to_cut);
}

}  // namespace

Computed belt_frequency(FactReader& facts) {
  const auto least = facts.number("belt", "belt_frequency_min");
  const auto most = facts.number("belt", "belt_frequency_max");
  if (!least || !most) return std::nullopt;
  const double target = (*least + *most) / 2;
  return ComputedValue{.target = target,
                       .how = fmt::format("middle of the range printed for {}{}; the lowest of "
                                          "four crank positions counts",
                                          facts.named("belt"), tension_note(facts, target))};
}

Computed chain_links(FactReader& facts) {
  const auto links = links_needed(facts);
  if (!links) return std::nullopt;
  if (!*links) {
    facts.ask("chain: " + links->error().sentence);
    return std::nullopt;
  }
  compare_with_supplied(facts, **links);
  return ComputedValue{
      .target = static_cast<double>(**links),
      .how = fmt::format("largest pair over a chainstay of {} mm; lay it on before cutting",
                         plain(facts.number_if_known("frame", "chainstay").value_or(0)))};
}

Computed assist_limit(FactReader& facts) {
  const auto assist_class = facts.word("order", "assist_class");
  if (!assist_class) return std::nullopt;
  const auto word =
      std::ranges::find(kAssistWords, *assist_class, &AssistWord::assist_class);
  if (word != std::end(kAssistWords)) {
    const mech::AssistLaw law = mech::assist_law(word->law).value();
    const double ends = law.help_ends.in(metre_per_second);
    return ComputedValue{.target = ends,
                         .most = ends * (1 + law.end_tolerance),
                         .limit_source = std::string(law.source),
                         .how = "the order states " + *assist_class};
  }
  facts.ask(fmt::format("the order's assist class is \"{}\": which limit has to be read back?",
                        *assist_class));
  return std::nullopt;
}

}  // namespace rollwright::build
