#include <algorithm>
#include <set>

#include <fmt/format.h>

#include "base/text.hpp"
#include "documents/labels.hpp"
#include "shop/shop.hpp"
#include "trade/label_code.hpp"
#include "trade/meant.hpp"

namespace rollwright::shop {
namespace {

using trade::LabelKind;

constexpr std::size_t kMostLabels = 1000;

struct LabelToPrint {
  LabelKind kind;
  documents::Label label;
};

/// "Wilma T.": the first name, and the first letter of the last.
std::string short_name(const std::string& name) {
  const std::vector<std::string> words = split(trim(name), ' ');
  if (words.size() < 2) return name;
  const std::string& last = words.back();
  std::size_t end = 1;
  while (end < last.size() && (static_cast<unsigned char>(last[end]) & 0xC0) == 0x80) ++end;
  return words.front() + " " + last.substr(0, end) + ".";
}

/// Two ids that differ only in the case of their letters have the same code: neither gets a label.
template <class Ids>
Result<void> check_case(const Ids& ids, const std::string& id, const char* field) {
  for (const std::string& other : ids) {
    if (other == id || trade::label_id(other) != trade::label_id(id)) continue;
    return refuse(Code::kConflict,
                  fmt::format("\"{}\" is there too, and codes do not tell capitals from small "
                              "letters; one of the two needs another name", other),
                  {.field = field, .value = id});
  }
  return {};
}

class LabelList {
 public:
  LabelList(const trade::Trade& trade, const State& state, const LabelWish& wish)
      : trade_(trade), state_(state), wish_(wish) {}

  Result<std::vector<LabelToPrint>> made() {
    if (Result<void> ok = read_kinds(); !ok) return std::unexpected(ok.error());
    if (Result<void> ok = add_orders(); !ok) return std::unexpected(ok.error());
    if (Result<void> ok = add_bins(); !ok) return std::unexpected(ok.error());
    if (Result<void> ok = add_people(); !ok) return std::unexpected(ok.error());
    if (Result<void> ok = add_tools(); !ok) return std::unexpected(ok.error());
    if (list_.size() <= kMostLabels) return std::move(list_);
    return refuse(Code::kTooLarge, fmt::format("these are {} labels; at most {} go at once",
                                               list_.size(), kMostLabels));
  }

 private:
  [[nodiscard]] bool wants(LabelKind kind) const { return kinds_.contains(kind); }
  [[nodiscard]] bool wants_orders() const {
    return wants(LabelKind::kOrder) || wants(LabelKind::kKit) || wants(LabelKind::kWheel);
  }

  Result<void> read_kinds() {
    static const std::vector<std::string> kPrinted = {"order", "kit",    "wheel",
                                                     "bin",   "person", "tool"};
    for (const std::string& word : wish_.kinds) {
      const auto kind = trade::label_kind_named(word);
      if (!kind || std::ranges::count(kPrinted, word) == 0) {
        return refuse(Code::kBadInput,
                      "labels are of kind order, kit, wheel, bin, person or tool" +
                          trade::meant(word, kPrinted),
                      {.field = "kinds", .value = word});
      }
      kinds_.insert(*kind);
    }
    if (!wish_.orders.empty() && !wants_orders()) {
      kinds_.insert({LabelKind::kOrder, LabelKind::kKit, LabelKind::kWheel});
    }
    if (!wish_.parts.empty()) kinds_.insert(LabelKind::kBin);
    if (!wish_.people.empty()) kinds_.insert(LabelKind::kPerson);
    if (!wish_.tools.empty()) kinds_.insert(LabelKind::kTool);
    if (!wants_orders() || !wish_.orders.empty()) return {};
    return refuse(Code::kBadInput, "name at least one order, as in 2041", {.field = "orders"});
  }

  void add(const trade::LabelCode& code, documents::Label label) {
    label.code = trade::write_label_code(code);
    std::erase(label.lines, "");
    list_.push_back({code.kind, std::move(label)});
  }

  // Orders ---------------------------------------------------------------------------------------

  Result<void> add_orders() {
    std::vector<std::string> ids;
    for (const auto& [id, order] : state_.orders) ids.push_back(id.text);
    for (const std::string& id : wish_.orders) {
      const auto found = state_.orders.find(trade::OrderId(id));
      if (found == state_.orders.end()) {
        return refuse(Code::kNotFound, "there is no such order", {.field = "orders", .value = id});
      }
      if (Result<void> ok = check_case(ids, id, "orders"); !ok) return ok;
      add_order(*found->second);
    }
    return {};
  }

  void add_order(const trade::Order& order) {
    const auto build = trade_.templates.find(order.build);
    const std::string what = build == trade_.templates.end() ? order.build : build->second.name;
    const std::vector<std::string> lines = {rider_of(order), what};
    const std::string& id = order.id.text;
    if (wants(LabelKind::kOrder)) {
      add({LabelKind::kOrder, id, ""}, {.code = "", .what = "Order", .number = id, .lines = lines});
    }
    if (wants(LabelKind::kKit)) {
      add({LabelKind::kKit, id, ""}, {.code = "", .what = "Kit", .number = id, .lines = lines});
    }
    if (!wants(LabelKind::kWheel) || build == trade_.templates.end()) return;
    add_wheel(order, build->second, {"front", "FRONT", "Front wheel"});
    add_wheel(order, build->second, {"rear", "REAR", "Rear wheel"});
  }

  [[nodiscard]] std::string rider_of(const trade::Order& order) const {
    return wish_.rider ? short_name(order.rider.name) : "";
  }

  struct End {
    std::string slot, code, what;
  };
  /// With what it is made of, so that nobody takes the wheel of another bike.
  void add_wheel(const trade::Order& order, const trade::BuildTemplate& build, const End& end) {
    documents::Label label{.code = "", .what = end.what, .number = order.id.text,
                           .lines = {rider_of(order)}};
    bool has_wheel = false;
    for (const char* piece : {"_wheel", "_hub", "_rim"}) {
      const trade::SlotId slot(end.slot + piece);
      const auto chosen = order.choices.find(slot);
      if (chosen != order.choices.end()) label.lines.push_back(state_.name_of(chosen->second));
      has_wheel = has_wheel || chosen != order.choices.end() ||
                  std::ranges::count(build.required, slot) > 0;
    }
    if (has_wheel) add({LabelKind::kWheel, order.id.text, end.code}, std::move(label));
  }

  // Parts, people, tools -------------------------------------------------------------------------

  Result<void> add_bins() {
    if (!wants(LabelKind::kBin)) return {};
    std::vector<std::string> wanted = wish_.parts;
    if (wanted.empty()) {
      for (const auto& [id, stock] : state_.stock) {
        if (stock->on_shelf > 0) wanted.push_back(id.text);
      }
    }
    std::vector<std::string> ids;
    for (const auto& [id, part] : state_.parts) ids.push_back(id.text);
    for (const std::string& id : wanted) {
      const trade::Part* part = state_.part(trade::PartId(id));
      if (part == nullptr) {
        return refuse(Code::kNotFound, "there is no such part" + trade::meant(id, ids),
                      {.field = "parts", .value = id});
      }
      if (Result<void> ok = check_case(ids, id, "parts"); !ok) return ok;
      add({LabelKind::kBin, id, ""},
          {.code = "", .what = "Bin", .number = id, .lines = {part->name, part->maker}});
    }
    return {};
  }

  Result<void> add_people() {
    if (!wants(LabelKind::kPerson)) return {};
    std::vector<std::string> ids;
    for (const trade::Person& person : state_.held.people) ids.push_back(person.id.text);
    for (const std::string& called : wish_.people.empty() ? ids : wish_.people) {
      const auto person = person_called(state_, called, "people");
      if (!person) return std::unexpected(person.error());
      if (Result<void> ok = check_case(ids, (*person)->id.text, "people"); !ok) return ok;
      add({LabelKind::kPerson, (*person)->id.text, ""},
          {.code = "", .what = "Person", .number = (*person)->name,
           .lines = {state_.settings.name}});
    }
    return {};
  }

  Result<void> add_tools() {
    if (!wants(LabelKind::kTool)) return {};
    std::vector<std::string> ids;
    for (const trade::Tool& tool : state_.held.tools) ids.push_back(tool.id);
    for (const std::string& id : wish_.tools.empty() ? ids : wish_.tools) {
      const auto tool = std::ranges::find(state_.held.tools, id, &trade::Tool::id);
      if (tool == state_.held.tools.end()) {
        return refuse(Code::kNotFound, "there is no such tool" + trade::meant(id, ids),
                      {.field = "tools", .value = id});
      }
      if (Result<void> ok = check_case(ids, id, "tools"); !ok) return ok;
      add({LabelKind::kTool, id, ""},
          {.code = "", .what = "Tool", .number = id, .lines = {tool->name}});
    }
    return {};
  }

  const trade::Trade& trade_;
  const State& state_;
  const LabelWish& wish_;
  std::set<LabelKind> kinds_;
  std::vector<LabelToPrint> list_;
};

/// What goes to the printer: labels and their sheet, of one state of the book.
struct LabelsToPrint {
  std::vector<LabelKind> kinds;
  std::vector<documents::Label> labels;
  documents::LabelPrint print;
};

Result<LabelsToPrint> to_print(const trade::Trade& trade, const State& state,
                               const LabelWish& wish) {
  const trade::LabelSheet* sheet = trade::find_label_sheet(trade.label_sheets, wish.sheet);
  if (sheet == nullptr) {
    std::vector<std::string> known;
    for (const trade::LabelSheet& one : trade.label_sheets) known.push_back(one.id);
    return refuse(Code::kNotFound,
                  fmt::format("no label sheet is called so; there are {}", listed(known)),
                  {.field = "sheet", .value = wish.sheet});
  }
  if (!(1 <= wish.from && wish.from <= sheet->labels())) {
    return refuse(Code::kOutOfRange,
                  sheet->labels() == 1
                      ? "a roll begins with its next label: position 1"
                      : fmt::format("this sheet has positions 1 to {}", sheet->labels()),
                  {.field = "from", .value = std::to_string(wish.from)});
  }
  Result<std::vector<LabelToPrint>> list = LabelList(trade, state, wish).made();
  if (!list) return std::unexpected(list.error());
  LabelsToPrint out{.kinds = {}, .labels = {},
                    .print = {.sheet = sheet, .from = wish.from, .printed = {}}};
  for (LabelToPrint& one : *list) {
    if (state.settings.invented) one.label.what += ", invented";
    out.kinds.push_back(one.kind);
    out.labels.push_back(std::move(one.label));
  }
  return out;
}

std::string sentence_of(const LabelsToPrint& all, int pages) {
  const auto count = [](std::size_t n, const char* one) {
    return fmt::format("{} {}{}", n, one, n == 1 ? "" : "s");
  };
  if (all.labels.empty()) return "No labels: name orders, parts, people or tools.";
  const trade::LabelSheet& sheet = *all.print.sheet;
  if (sheet.labels() == 1) return count(all.labels.size(), "label") + " from the roll.";
  return fmt::format("{} on {}{}.", count(all.labels.size(), "label"),
                     count(static_cast<std::size_t>(pages), "sheet"),
                     all.print.from > 1 ? fmt::format(", from position {}", all.print.from) : "");
}

LabelSheetView view_of(const trade::LabelSheet& sheet) {
  return {.id = sheet.id, .name = sheet.name, .page_width_mm = sheet.page_width_mm,
          .page_height_mm = sheet.page_height_mm, .columns = sheet.columns, .rows = sheet.rows,
          .label_width_mm = sheet.label_width_mm, .label_height_mm = sheet.label_height_mm,
          .left_mm = sheet.left_mm, .top_mm = sheet.top_mm, .gap_across_mm = sheet.gap_across_mm,
          .gap_down_mm = sheet.gap_down_mm};
}

Result<LabelsView> view_of(const LabelsToPrint& all) {
  const trade::LabelSheet& sheet = *all.print.sheet;
  LabelsView view{.sentence = "", .sheet = sheet.id, .from = all.print.from, .pages = 0,
                  .labels = {}, .sheets = {}};
  view.pages = trade::pages_for(sheet, view.from, static_cast<int>(all.labels.size()));
  view.sentence = sentence_of(all, view.pages);
  const auto layouts = documents::layouts_of(all.labels, all.print);
  if (!layouts) return std::unexpected(layouts.error());
  for (std::size_t i = 0; i < all.labels.size(); ++i) {
    const documents::Label& label = all.labels[i];
    const trade::LabelPlace place = trade::place_of(sheet, view.from, static_cast<int>(i));
    view.labels.push_back({.kind = std::string(trade::word_of(all.kinds[i])), .what = label.what,
                           .number = label.number, .code = label.code, .lines = label.lines,
                           .page = place.page, .position = place.position,
                           .module_mm = (*layouts)[i].module,
                           .figures_mm = (*layouts)[i].figures_mm,
                           .is_whole = (*layouts)[i].is_whole});
  }
  return view;
}

}  // namespace

Result<LabelsView> Shop::labels(const LabelWish& wish) {
  const auto current = state();
  if (!current) return std::unexpected(current.error());
  const auto all = to_print(trade_, **current, wish);
  if (!all) return std::unexpected(all.error());
  Result<LabelsView> view = view_of(*all);
  if (!view) return view;
  for (const trade::LabelSheet& sheet : trade_.label_sheets) view->sheets.push_back(view_of(sheet));
  return view;
}

Result<std::string> Shop::labels_pdf(const LabelWish& wish) {
  const auto current = state();
  if (!current) return std::unexpected(current.error());
  auto all = to_print(trade_, **current, wish);
  if (!all) return std::unexpected(all.error());
  if (all->labels.empty()) {
    return refuse(Code::kBadInput,
                  "there is nothing to print: name orders, parts, people or tools");
  }
  all->print.printed = clock_.now();
  return documents::labels_pdf(all->labels, all->print);
}

Result<std::string> Shop::labels_svg(const LabelWish& wish, int page) {
  const auto current = state();
  if (!current) return std::unexpected(current.error());
  const auto all = to_print(trade_, **current, wish);
  if (!all) return std::unexpected(all.error());
  return documents::labels_svg(all->labels, all->print, page);
}

}  // namespace rollwright::shop
