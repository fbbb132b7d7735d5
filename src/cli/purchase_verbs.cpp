#include <fmt/format.h>

#include "base/text.hpp"
#include "cli/columns.hpp"
#include "cli/verbs.hpp"
#include "units/money.hpp"

// Orders to suppliers: what is to buy, what was ordered, what is given up.
namespace rollwright::cli {
namespace {

struct PurchaseOptions {
  shop::PurchaseGiven given;
  std::vector<std::string> pieces;  // "HG-0001=2"
  std::string day;
  std::string line;
};

Result<shop::PiecesGiven> pieces_from(const std::string& text) {
  const std::size_t sign = text.rfind('=');
  const auto quantity = sign == std::string::npos ? std::nullopt : to_whole(text.substr(sign + 1));
  if (!quantity || *quantity < 0 || *quantity > 1'000'000) {
    return refuse(Code::kBadInput, "say part and pieces, as in HG-0001=2",
                  {.field = "pieces", .value = text});
  }
  return shop::PiecesGiven{text.substr(0, sign), static_cast<int>(*quantity)};
}

Result<shop::PlacedView> place(const PurchaseOptions& options, shop::Shop& shop,
                               const std::string& who) {
  shop::PurchaseGiven given = options.given;
  if (!options.day.empty()) {
    const Result<Day> day = parse_day(options.day);
    if (!day) {
      return refuse(day.error().code, day.error().sentence,
                    {.field = "--day", .value = options.day});
    }
    given.confirmed = *day;
  }
  for (const std::string& text : options.pieces) {
    const Result<shop::PiecesGiven> pieces = pieces_from(text);
    if (!pieces) return std::unexpected(pieces.error());
    given.lines.push_back(*pieces);
  }
  return shop.place(given, who);
}

}  // namespace

void add_purchase_verbs(Verbs& verbs) {
  const auto options = std::make_shared<PurchaseOptions>();
  PurchaseOptions& o = *options;
  verbs.add("buy", "what to buy, from whom, by which day",
            [](const Common& common, shop::Shop& shop) { return answer(common, shop.buy()); });
  auto* placed = verbs.add("place", "write down what was ordered from a supplier",
                           [options](const Common& common, shop::Shop& shop) {
                             return answer(common, place(*options, shop, common.who));
                           });
  placed->add_option("supplier", o.given.supplier, "its short name, as in the buying list")->required();
  placed->add_option("pieces", o.pieces, "part and pieces, as in HG-0001=2")->required();
  placed->add_option("--mode", o.given.mode, "of freight, as the supplier offers it");
  placed->add_option("--day", o.day, "that the supplier named, as in 2026-12-04");
  placed->add_option("--note", o.given.note, "one line that goes with it");
  auto* given_up = verbs.add("give-up", "a line that was ordered is not wanted any more",
                             [options](const Common& common, shop::Shop& shop) {
                               return answer(common, shop.give_up(options->line,
                                                                  options->given.note, common.who));
                             });
  given_up->add_option("line", o.line, "number of the purchase line, as in P-3101")->required();
  given_up->add_option("--note", o.given.note, "why");
}

std::string as_text(const shop::PlacedView& view) {
  using enum Columns::Side;
  Columns columns({kLeft, kRight, kLeft, kLeft, kLeft, kRight});
  for (const shop::PlacedLineView& line : view.lines) {
    columns.row({"  " + line.id, std::to_string(line.quantity), line.name, line.article,
                 line.order ? "for " + *line.order : "for the shelf",
                 shown(Money{line.unit_cost_cents}) + " each"});
  }
  return view.sentence + "\n" + columns.text();
}

}  // namespace rollwright::cli
