#include <fmt/format.h>

#include "base/text.hpp"
#include "cli/columns.hpp"
#include "cli/verbs.hpp"
#include "shop/maker_desk.hpp"

// Bikes that a maker builds: the order form, the maker's lists, and what is said to differences.
namespace rollwright::cli {
namespace {

struct MakerWish {
  std::string order;
  std::string by;
  std::string pdf, csv, wanted, how;
  bool letter = false;
  std::string file, reference;
  shop::DifferenceGiven answer;
  std::string price_change;
};

/// `rollwright maker-form`: shows it, prints it, or with --wanted writes down that it was sent.
int maker_form(const MakerWish& wish, const Common& common, shop::Shop& shop) {
  shop::MakerDesk desk(shop);
  if (!wish.wanted.empty()) {
    const Result<Day> day = parse_day(wish.wanted);
    if (!day) {
      return fail(common, {Code::kBadInput, "this must be a day as in 2027-01-20",
                           {.field = "wanted", .value = wish.wanted}});
    }
    const auto sent = desk.send_form(wish.order, {.who = wish.by, .wanted = *day,
                                                  .how = wish.how});
    if (!sent) return fail(common, sent.error());
  }
  int code = 0;
  if (!wish.pdf.empty()) {
    code = write_paper(common, desk.form_pdf(wish.order, wish.letter), wish.pdf);
  }
  if (code == 0 && !wish.csv.empty()) {
    code = write_paper(common, desk.form_csv(wish.order), wish.csv);
  }
  if (code != 0 || (wish.wanted.empty() && !(wish.pdf.empty() && wish.csv.empty()))) return code;
  return answer(common, desk.look(wish.order));
}

/// Takes a list in; without a file it only shows how the lists stand.
int maker_list(const MakerWish& wish, const char* kind, const Common& common, shop::Shop& shop) {
  shop::MakerDesk desk(shop);
  if (wish.file.empty()) return answer(common, desk.look(wish.order));
  Result<std::string> csv = read_file(wish.file);
  if (!csv) return fail(common, csv.error());
  const std::size_t slash = wish.file.find_last_of('/');
  const std::string name = slash == std::string::npos ? wish.file : wish.file.substr(slash + 1);
  return answer(common, desk.take_list(wish.order, {.who = wish.by, .kind = kind,
                                                    .reference = wish.reference, .file = name,
                                                    .csv = std::move(*csv), .lines = {}}));
}

/// Answers differences of the list that counts, as it stands now.
int answer_difference(const MakerWish& wish, const Common& common, shop::Shop& shop) {
  shop::MakerDesk desk(shop);
  const auto seen = desk.look(wish.order);
  if (!seen) return fail(common, seen.error());
  shop::DifferenceGiven given = wish.answer;
  given.who = wish.by;
  given.revision = seen->revision;
  for (const shop::MakerListView& list : seen->lists) {
    if (list.counts) given.list = fmt::format("{} {}", list.kind, list.number);
  }
  if (!wish.price_change.empty()) {
    const bool less = wish.price_change.starts_with('-');
    const auto amount = parse_money(less ? wish.price_change.substr(1) : wish.price_change);
    if (!amount) {
      return fail(common, {Code::kBadInput, "this must be an amount as in -40 or 12.50",
                           {.field = "price-change", .value = wish.price_change}});
    }
    given.price_change_cents = less ? -amount->cents : amount->cents;
  }
  return answer(common, desk.answer(wish.order, given));
}

void add_form(Verbs& verbs, const std::shared_ptr<MakerWish>& wish) {
  CLI::App* form = verbs.add("maker-form", "the order form to the maker of a whole bike",
                             [wish](const Common& common, shop::Shop& shop) {
                               return maker_form(*wish, common, shop);
                             });
  form->add_option("order", wish->order, "number of the order")->required();
  form->add_option("--wanted", wish->wanted, "write down that it was sent, for this day");
  form->add_option("--how", wish->how, "by mail, letter, the maker's own page");
  form->add_option("--by", wish->by, "who of the shop sends it");
  form->add_option("--pdf", wish->pdf, "write it as a PDF to this file");
  form->add_option("--csv", wish->csv, "write it as CSV to this file");
  form->add_flag("--letter", wish->letter, "on US Letter, not A4");
}

void add_list(Verbs& verbs, const std::shared_ptr<MakerWish>& wish, const char* verb,
              const char* kind, const char* help) {
  CLI::App* list = verbs.add(verb, help, [wish, kind](const Common& common, shop::Shop& shop) {
    return maker_list(*wish, kind, common, shop);
  });
  list->add_option("order", wish->order, "number of the order")->required();
  list->add_option("file", wish->file, "the maker's list as CSV; left out: show how it stands");
  list->add_option("--reference", wish->reference, "the maker's own number of it");
  list->add_option("--by", wish->by, "who of the shop takes it in");
}

void add_answer(Verbs& verbs, const std::shared_ptr<MakerWish>& wish) {
  CLI::App* answer = verbs.add(
      "answer-difference", "accept or deny what the maker built otherwise",
      [wish](const Common& common, shop::Shop& shop) {
        return answer_difference(*wish, common, shop);
      });
  answer->add_option("order", wish->order, "number of the order")->required();
  answer->add_option("answer", wish->answer.answer, "accepted or denied")->required();
  answer->add_option("differences", wish->answer.differences, "positions, as in front_tyre")
      ->required();
  answer->add_option("--why", wish->answer.why, "why, and what the customer was told")->required();
  answer->add_option("--signed-by", wish->answer.signed_by, "who agreed for the customer");
  answer->add_option("--price-change", wish->price_change, "of the bike, as in -40");
  answer->add_option("--by", wish->by, "who of the shop answers")->required();
}

void add_difference(const shop::DifferenceView& each, std::string& text) {
  text += fmt::format("{}: {}, {}\n", each.key, each.sentence, each.standing);
  for (const std::string& stop : each.stops) text += fmt::format("  stops  {}\n", stop);
  for (const std::string& warn : each.warns) text += fmt::format("  warns  {}\n", warn);
  if (each.mass_change_kg) text += fmt::format("  mass   {:+.3f} kg\n", *each.mass_change_kg);
  if (each.list_price_change_cents) {
    text += fmt::format("  parts  {:+.2f} by the catalogue\n",
                        static_cast<double>(*each.list_price_change_cents) / 100);
  }
  if (!each.answered.empty()) text += fmt::format("  {}\n", each.answered);
}

}  // namespace

std::string as_text(const shop::MakerView& view) {
  std::string text = fmt::format("{}, {}: {}\n", view.order, view.state, view.sentence);
  Columns columns(std::vector<Columns::Side>(6, Columns::Side::kLeft));
  columns.row({"position", "ordered", "confirmed", "", "as built", ""});
  for (const shop::MakerTableRow& row : view.rows) {
    columns.row({row.position, row.ordered, row.confirmed,
                 row.confirmed_is == "same" ? "" : row.confirmed_is, row.built,
                 row.built_is == "same" ? "" : row.built_is});
  }
  text += columns.text();
  for (const shop::DifferenceView& each : view.differences) add_difference(each, text);
  return text;
}

void add_maker_verbs(Verbs& verbs) {
  const auto wish = std::make_shared<MakerWish>();
  add_form(verbs, wish);
  add_list(verbs, wish, "maker-confirmed", "confirmed",
           "take in what the maker confirms, or show how it stands");
  add_list(verbs, wish, "as-built", "as built",
           "take in what the maker built, or show how it stands");
  add_answer(verbs, wish);
}

}  // namespace rollwright::cli
