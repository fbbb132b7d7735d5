#include "shop/order_input.hpp"

#include <algorithm>
#include <optional>

#include <fmt/format.h>

#include "base/shortened.hpp"
#include "base/text.hpp"

namespace rollwright::shop {
namespace {

std::unexpected<Error> wrong_field(const char* field, std::string value, std::string sentence) {
  return refuse(Code::kOutOfRange, std::move(sentence), {.field = field, .value = std::move(value)});
}

/// A length or mass of the rider; empty is not known.
template <class Q>
Result<std::optional<Q>> checked(const char* field, const std::optional<double>& value, Q unit,
                                 std::pair<double, double> range) {
  if (!value) return std::optional<Q>();
  if (!(range.first <= *value && *value <= range.second)) {
    return wrong_field(field, plain(*value),
                       fmt::format("this must be from {} to {}", range.first, range.second));
  }
  return std::optional<Q>(*value * unit);
}

}  // namespace

Result<void> one_line(const char* field, const std::string& text, std::size_t most) {
  const bool breaks = std::any_of(text.begin(), text.end(), [](char c) {
    return static_cast<unsigned char>(c) < 0x20 || c == 0x7f;
  });
  if (breaks) return wrong_field(field, shortened(text), "this must be one line of text");
  if (text.size() > most) {
    return wrong_field(field, shortened(text),
                       fmt::format("this may have at most {} letters", most));
  }
  return {};
}

Result<trade::Rider> rider_from(const RiderView& view) {
  trade::Rider rider{.name = std::string(trim(view.name)), .contact = view.contact};
  if (rider.name.empty()) return wrong_field("rider.name", view.name, "the rider needs a name");
  for (const auto& [field, text] :
       {std::pair{"rider.name", rider.name}, std::pair{"rider.contact", rider.contact}}) {
    if (Result<void> ok = one_line(field, text, 200); !ok) return std::unexpected(ok.error());
  }
  // Ranges: people for whom bicycles are built at all.
  const auto height = checked("rider.height_mm", view.height_mm, mm, {900, 2300});
  const auto inseam = checked("rider.inseam_mm", view.inseam_mm, mm, {400, 1200});
  const auto mass = checked("rider.mass_kg", view.mass_kg, kg, {15, 250});
  if (!height) return std::unexpected(height.error());
  if (!inseam) return std::unexpected(inseam.error());
  if (!mass) return std::unexpected(mass.error());
  rider.height = *height;
  rider.inseam = *inseam;
  rider.mass = *mass;
  if (rider.height && rider.inseam && *rider.inseam >= *rider.height) {
    return wrong_field("rider.inseam_mm", plain(*view.inseam_mm),
                       "the inseam must be shorter than the rider is tall");
  }
  return rider;
}

Result<trade::Need> need_from(const trade::Trade& trade, const NeedView& view) {
  if (Result<void> ok = one_line("need.words", view.words, 2000); !ok) {
    return std::unexpected(ok.error());
  }
  if (view.use_class < 1 || view.use_class > 6) {
    return wrong_field("need.use_class", std::to_string(view.use_class),
                       "the use class is a number from 1 (paved) to 6 (extreme)");
  }
  if (!(0 <= view.luggage_kg && view.luggage_kg <= 400)) {
    return wrong_field("need.luggage_kg", plain(view.luggage_kg),
                       "bags and passengers weigh from 0 to 400 kg");
  }
  const auto word = [&trade](const char* attribute, const std::string& value) -> Result<void> {
    const auto known = trade.attributes.find(attribute);
    if (known == trade.attributes.end()) return {};
    const Result<trade::Value> parsed = trade::parse_value(known->second, value);
    if (parsed) return {};
    return wrong_field((std::string("need.") + attribute).c_str(), value,
                       parsed.error().sentence);
  };
  for (const auto& [attribute, value] :
       {std::pair{"region", view.region}, std::pair{"assist_class", view.assist_class},
        std::pair{"front_brake_lever", view.front_brake_lever}}) {
    if (Result<void> ok = word(attribute, value); !ok) return std::unexpected(ok.error());
  }
  return trade::Need{.words = view.words, .use_class = view.use_class,
                     .luggage = view.luggage_kg * kg, .child_seat = view.child_seat,
                     .region = view.region, .assist_class = view.assist_class,
                     .front_brake_lever = view.front_brake_lever, .route = view.route,
                     .by_freight = view.by_freight};
}

Result<void> belongs(const trade::Trade& trade, const State& state,
                     const trade::BuildTemplate& build, const trade::SlotId& slot,
                     const trade::PartId& part) {
  const std::vector<trade::KindId> kinds = trade::kinds_for(trade, build, slot);
  const bool known = std::find(build.required.begin(), build.required.end(), slot) !=
                         build.required.end() ||
                     std::find(build.optional.begin(), build.optional.end(), slot) !=
                         build.optional.end();
  if (!known) {
    return refuse(Code::kNotFound, fmt::format("this build has no slot {}", slot.text),
                  {.field = "slot", .value = slot.text});
  }
  if (part.empty()) return {};
  const trade::Part* found = state.part(part);
  if (found == nullptr) {
    return refuse(Code::kNotFound, fmt::format("there is no part {} in the catalogue", part.text),
                  {.field = "part", .value = part.text});
  }
  if (std::find(kinds.begin(), kinds.end(), found->kind) == kinds.end()) {
    return refuse(Code::kContradiction,
                  fmt::format("{} cannot be put where the {} goes", found->name, slot.text),
                  {.field = "part", .value = part.text});
  }
  return {};
}

}  // namespace rollwright::shop
