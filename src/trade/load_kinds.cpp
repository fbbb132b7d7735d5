#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "trade/meant.hpp"
#include "trade/pseudo.hpp"
#include "trade/trade_loading.hpp"

namespace rollwright::trade {
namespace {

constexpr int kMostInASlot = 200;  // spokes are counted one by one

template <class IdType>
std::vector<IdType> as_ids(const std::vector<std::string>& names) {
  return std::vector<IdType>(names.begin(), names.end());
}

PartKind read_kind(TradeLoading& loading, TableReader& reader) {
  PartKind kind{.id = KindId(reader.text("id")), .name = reader.text("name")};
  kind.attributes = reader.texts("attributes");
  kind.decisive = reader.texts("decisive");
  kind.lead_time_group = reader.text_or("lead_time_group", "");
  kind.has_serial = reader.flag_or("has_serial", false);
  reader.finish();
  if (loading.is_read("attributes.toml")) {
    check_names(reader, "attributes", kind.attributes, names_in(loading.trade.attributes),
                "attribute");
  }
  const bool has_mass = std::ranges::count(kind.attributes, "mass") > 0;
  if (!has_mass && !is_pseudo(kind.id)) kind.attributes.push_back("mass");
  check_names(reader, "decisive", kind.decisive, kind.attributes, "attribute of this kind");
  if (is_pseudo(kind.id)) return kind;
  if (kind.lead_time_group.empty()) {
    reader.missing("lead_time_group", "name a group of lead_times.csv");
  } else if (loading.is_read("lead_times.csv")) {
    check_names(reader, "lead_time_group", {kind.lead_time_group},
                names_in(loading.trade.lead_times), "lead-time group");
  }
  return kind;
}

std::vector<std::string> real_kinds(const Trade& trade) {
  std::vector<std::string> kinds;
  for (const auto& [id, kind] : trade.kinds) {
    if (!is_pseudo(id)) kinds.push_back(id.text);
  }
  return kinds;
}

/// Slots that take only some of their kinds in this build.
void read_narrowed(TradeLoading& loading, TableReader& reader, BuildTemplate& build) {
  const TomlValue* table = reader.table("kinds");
  if (table == nullptr) return;
  TableReader inside(*table, reader.file(), loading.problems, "kinds.");
  for (const TomlEntry& entry : table->entries) {
    const SlotId slot(entry.key);
    const std::vector<std::string> kinds = inside.texts(entry.key);
    const bool has_slot = std::ranges::count(build.required, slot) > 0 ||
                          std::ranges::count(build.optional, slot) > 0;
    if (!has_slot) {
      inside.problem(entry.key, Code::kContradiction,
                     "this build has no such slot; name it in `required` or `optional`");
      continue;
    }
    if (kinds.empty()) inside.missing(entry.key, "name at least one kind");
    const Slot* found = find_slot(loading.trade, slot);
    if (found != nullptr && loading.is_read("kinds.toml")) {
      std::vector<std::string> allowed;
      for (const KindId& kind : found->kinds) allowed.push_back(kind.text);
      check_names(inside, entry.key, kinds, allowed, "kind of this slot");
    }
    build.kinds[slot] = as_ids<KindId>(kinds);
  }
}

void check_template_slots(TradeLoading& loading, TableReader& reader, const BuildTemplate& build) {
  std::vector<std::string> known;
  for (const Slot& slot : loading.trade.slots) known.push_back(slot.id.text);
  const auto check = [&](std::string_view key, const std::vector<SlotId>& slots) {
    std::vector<std::string> names;
    for (const SlotId& slot : slots) names.push_back(slot.text);
    if (loading.is_read("slots.toml")) check_names(reader, key, names, known, "slot");
  };
  check("required", build.required);
  check("optional", build.optional);
  for (const SlotId& slot : build.optional) {
    if (std::ranges::count(build.required, slot) > 0) {
      reader.problem("optional", Code::kContradiction,
                     "this slot is required as well; keep it in one of the two lists", slot.text);
    }
  }
  if (build.required.empty()) reader.missing("required", "name the slots every such bike fills");
}

}  // namespace

void load_kinds(TradeLoading& loading) {
  OnlyOnce once("kind");
  loading.toml_file("kinds.toml", "kind", [&](TableReader& reader) {
    PartKind kind = read_kind(loading, reader);
    if (once.is_new(reader, kind.id.text)) loading.trade.kinds.emplace(kind.id, std::move(kind));
  });
  if (!loading.is_read("kinds.toml")) return;
  for (const KindId& id : {order_kind(), rider_kind()}) {
    if (loading.trade.kinds.contains(id)) continue;
    loading.problem(Code::kBadInput,
                    fmt::format("the kind {} is missing; it lists what rules may ask of the {}",
                                id.text, id == order_kind() ? "order" : "rider"),
                    {.file = "kinds.toml"});
  }
}

void load_slots(TradeLoading& loading) {
  OnlyOnce once("slot");
  loading.toml_file("slots.toml", "slot", [&](TableReader& reader) {
    Slot slot{.id = SlotId(reader.text("id")), .name = reader.text("name")};
    const std::vector<std::string> kinds = reader.texts("kinds");
    slot.kinds = as_ids<KindId>(kinds);
    slot.quantity = reader.whole("quantity", 1, kMostInASlot).value_or(1);
    reader.finish();
    if (kinds.empty()) reader.missing("kinds", "name the kinds of part that may fill the slot");
    if (loading.is_read("kinds.toml")) {
      check_names(reader, "kinds", kinds, real_kinds(loading.trade), "kind of part");
    }
    if (is_pseudo(slot.id) || slot.id.text.find_first_of(".|*{} ") != std::string::npos) {
      reader.problem("id", Code::kBadInput,
                     "a slot may not be called order or rider, nor hold . | * { } or a space",
                     slot.id.text);
      return;
    }
    if (once.is_new(reader, slot.id.text)) loading.trade.slots.push_back(std::move(slot));
  });
}

void load_templates(TradeLoading& loading) {
  OnlyOnce once("build");
  std::set<std::string> given;
  loading.toml_file("templates.toml", "template", [&](TableReader& reader) {
    BuildTemplate build{.id = reader.text("id"), .name = reader.text("name")};
    build.maker_built = reader.flag_or("maker_built", false);
    build.required = as_ids<SlotId>(reader.texts("required"));
    build.optional = as_ids<SlotId>(reader.texts("optional"));
    build.traits = reader.texts("traits");
    read_narrowed(loading, reader, build);
    reader.finish();
    check_template_slots(loading, reader, build);
    if (loading.is_read("traits.toml")) {
      check_names(reader, "traits", build.traits, names_in(loading.trade.traits), "trait");
    }
    given.insert(build.traits.begin(), build.traits.end());
    if (once.is_new(reader, build.id)) loading.trade.templates.emplace(build.id, std::move(build));
  });
  if (!loading.is_read("templates.toml")) return;
  for (const auto& [id, trait] : loading.trade.traits) {
    if (!trait.any_of.empty() || given.contains(id)) continue;
    loading.problem(Code::kBadInput,
                    "this trait has no `any_of` and no build in templates.toml gives it; it would "
                    "never hold",
                    {.file = "traits.toml", .line = loading.trait_lines[id], .field = "any_of"});
  }
}

}  // namespace rollwright::trade
