#include <algorithm>

#include <fmt/format.h>

#include "base/shortened.hpp"
#include "base/text.hpp"
#include "build/order_flags.hpp"
#include "shop/bike.hpp"
#include "shop/life_desk.hpp"
#include "shop/maker_at.hpp"
#include "shop/order_input.hpp"
#include "shop/questions.hpp"
#include "shop/shop.hpp"
#include "shop/spec_versions.hpp"
#include "shop/supply_side.hpp"

// Changes after signing: priced before they are agreed, and signed before the order goes on.
namespace rollwright::shop {
namespace {

using Choices = std::map<std::string, std::optional<std::string>>;

std::vector<std::string> misfits(const spec::SpecCheck& check) {
  std::vector<std::string> sentences;
  for (const spec::Finding& finding : check.findings) {
    const bool bad = finding.verdict == trade::Verdict::kDoesNotFit ||
                     finding.verdict == trade::Verdict::kNotKnown;
    if (bad) sentences.push_back(finding.sentence);
  }
  return sentences;
}

bool is_chosen_alike(const trade::Order& a, const trade::Order& b, const trade::SlotId& slot) {
  const auto of_a = a.choices.find(slot);
  const auto of_b = b.choices.find(slot);
  if (of_a == a.choices.end() || of_b == b.choices.end()) {
    return (of_a == a.choices.end()) == (of_b == b.choices.end());
  }
  return of_a->second == of_b->second;
}

/// Takes the line of a slot away; its price, nothing when there is none.
Money taken_out(std::vector<trade::SignedLine>& lines, const trade::SlotId& slot) {
  const auto line = std::ranges::find(lines, slot, &trade::SignedLine::slot);
  if (line == lines.end()) return {};
  const Money price = line->each * line->quantity;
  lines.erase(line);
  return price;
}

bool does_not_fit(const spec::SpecCheck& check) {
  return check.verdict == trade::Verdict::kDoesNotFit || !check.complete;
}

}  // namespace

Result<trade::Order> LifeDesk::changed(const Looked& looked, const Choices& choices) const {
  trade::Order order = looked.order;
  for (const auto& [slot, part] : choices) {
    const trade::SlotId slot_id(slot);
    const trade::PartId part_id(part.value_or(""));
    const Result<void> ok =
        belongs(shop_.trade_, *looked.state, *looked.build, slot_id, part_id);
    if (!ok) return std::unexpected(ok.error());
    if (part_id.empty()) {
      order.choices.erase(slot_id);
    } else {
      order.choices[slot_id] = part_id;
    }
  }
  return order;
}

Result<build::ChangePrice> LifeDesk::priced(const Looked& looked,
                                            const trade::Order& changed) const {
  const ChangeAt here = change_at(looked);
  std::vector<trade::SignedLine> from = lines_signed(here.life);
  std::vector<trade::SignedLine> to = spec_lines(shop_.trade_, *looked.state, changed);
  // What the maker built otherwise and was accepted costs the customer what was agreed then.
  build::ChangePrice accepted;
  for (const AcceptedChange& each : accepted_not_signed(here.life)) {
    if (!is_chosen_alike(changed, looked.order, each.slot)) continue;
    const Money parts = taken_out(to, each.slot) - taken_out(from, each.slot);
    const trade::Slot* slot = trade::find_slot(shop_.trade_, each.slot);
    accepted.lines.push_back({.what = fmt::format("{}: as the maker built it", slot->name),
                              .amount = each.price_change, .why = each.why});
    accepted.parts += parts;
    accepted.beside += each.price_change - parts;
    accepted.total += each.price_change;
  }
  const auto changes = part_changes(here, from, to);
  if (changes.empty() && !accepted.lines.empty()) {
    accepted.sentence = fmt::format("What the maker built otherwise, as accepted: {}.",
                                    shown(accepted.total));
    return accepted;
  }
  auto price = build::price_of_change(changes, looked.state->settings.hourly_rate);
  if (!price || accepted.lines.empty()) return price;
  price->lines.insert(price->lines.end(), accepted.lines.begin(), accepted.lines.end());
  price->parts += accepted.parts;
  price->beside += accepted.beside;
  price->total += accepted.total;
  price->sentence += fmt::format(" With what the maker built otherwise, as accepted: {}.",
                                 shown(price->total));
  return price;
}

Result<trade::SignedSpec> LifeDesk::version_to_sign(const Looked& looked,
                                                    const Signature& signature) const {
  trade::SignedSpec spec = next_version(shop_.trade_, *looked.state, looked.order, signature);
  const auto signed_now = signed_state(shop_.trade_, *looked.state, looked.order);
  if (signed_now.version == 0 || signed_now.changed.empty()) return spec;
  const auto price = priced(looked, looked.order);
  if (!price) return std::unexpected(price.error());
  spec.changes += price->beside;
  spec.price += price->beside;
  return spec;
}

Result<ChangePriceView> LifeDesk::price_of_change(const std::string& id, const Choices& choices) {
  auto now = looked(id);
  if (!now) return std::unexpected(now.error());
  const auto order = changed(*now, choices);
  if (!order) return std::unexpected(order.error());
  const auto price = priced(*now, *order);
  if (!price) return std::unexpected(price.error());
  ChangePriceView view = change_price_view(at(*now), *price);
  view.findings = misfits(
      check_order(shop_.trade_, *now->build, bike_of(*now->state, *order), *order));
  const auto versions = versions_of(*now->state, order->id);
  const Money before = versions.empty() ? price_of(lines_signed(at(*now))) : versions.back()->price;
  view.signed_price_cents = (before + price->total).cents;
  return view;
}

Result<LifeView> LifeDesk::change(const std::string& id, const ChangeGiven& given,
                                  const std::string& who) {
  const auto now = looked(id);
  if (!now) return std::unexpected(now.error());
  const auto person = mover(*now, given.by);
  if (!person) return std::unexpected(person.error());
  if (trade::is_before_agreed(now->order.state) || trade::is_over(now->order.state)) {
    return refuse(Code::kRefused,
                  fmt::format("order {} is {}: a signed specification is changed from Agreed until it "
                              "is handed over",
                              id, trade::word_of(now->order.state)),
                  {.field = "order", .value = id});
  }
  auto order = changed(*now, given.choices);
  if (!order) return std::unexpected(order.error());
  const spec::SpecCheck check =
      check_order(shop_.trade_, *now->build, bike_of(*now->state, *order), *order);
  if (does_not_fit(check)) {
    return refuse(Code::kRefused,
                  fmt::format("order {} cannot be changed so: {}", id,
                              check.complete ? join(misfits(check), "; ")
                                             : "a slot that the build needs would be empty"),
                  {.field = "choices"});
  }
  const auto versions = versions_of(*now->state, order->id);
  const bool taken_back =
      !versions.empty() &&
      differences(shop_.trade_, *now->state, versions.back()->lines,
                  spec_lines(shop_.trade_, *now->state, *order)).empty();
  std::int64_t total = 0;
  std::string sentence = "back to what was signed";
  if (!taken_back) {
    const auto price = priced(*now, *order);
    if (!price) return std::unexpected(price.error());
    total = price->total.cents;
    sentence = price->sentence;
  }
  if (total != given.total_cents) {
    return refuse(Code::kConflict,
                  fmt::format("the change comes to {}, not {}: look at it again",
                              shown(Money{total}), shown(Money{given.total_cents})),
                  {.field = "total_cents", .value = std::to_string(given.total_cents)});
  }
  book::Change change{.who = who, .what = "change", .why = sentence,
                      .read_at = now->state->entry};
  if (auto first = version_before_versions(shop_.trade_, *now->state, now->order)) {
    order->spec_version = first->version;
    change.put.signed_specs = {std::move(*first)};
  }
  order->revision = given.revision;
  if (taken_back) {
    order->flags.erase("Change open");
    order->flags_said.erase("Change open");
  } else {
    order->flags.insert("Change open");
    order->flags_said["Change open"] = {.reason = shortened(sentence, build::kLongestReason), .until = {},
                                        .who = (*person)->name, .day = now->now.day};
  }
  change.put.orders = {std::move(*order)};
  return written(std::move(change), id, {sentence});
}

Result<SettlementView> LifeDesk::settlement(const std::string& id) {
  const auto now = looked(id);
  if (!now) return std::unexpected(now.error());
  if (trade::is_over(now->order.state)) {
    return refuse(Code::kRefused,
                  fmt::format("order {} is {}: it cannot be cancelled any more", id,
                              trade::word_of(now->order.state)),
                  {.field = "order", .value = id});
  }
  const auto settled = build::settlement_of(cancelled_now(change_at(*now)));
  if (!settled) return std::unexpected(settled.error());
  return settlement_view(at(*now), *settled);
}

}  // namespace rollwright::shop
