#include "base/text.hpp"
#include "build/aid_filling.hpp"

// A bare rim of the bike on a thread.
namespace rollwright::build {
namespace {

void rim_tones(AidFilling& filling) {
  const std::string rim = rim_slot(filling.reader(), filling.end());
  if (rim == filling.at_end("wheel")) {
    return filling.not_here("the " + filling.end() + " wheel is bought whole: its rim is not bare");
  }
  filling.fact("mass", rim, "mass");
  filling.computed("diameter", [&](FactReader& facts) -> std::optional<Told> {
    const auto erd = facts.number(rim, "erd");
    if (!erd) return std::nullopt;
    constexpr double kOver = 8;  // mm, common practice: the middle lies outside the nipples' seats
    return Told{plain(*erd + kOver) + " mm", origin_of(facts, rim, "erd") + ", and 8 mm"};
  });
  filling.ask("two", "hang the bare rim on a thread and strike it sideways");
  filling.ask("three", "hang the bare rim on a thread and strike it sideways");
}

}  // namespace

AidFills rim_aid_fields() { return {{"rim-tones", rim_tones}}; }

}  // namespace rollwright::build
