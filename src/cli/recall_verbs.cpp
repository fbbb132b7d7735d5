#include <fmt/format.h>

#include "cli/columns.hpp"
#include "cli/verbs.hpp"
#include "shop/recall_desk.hpp"

namespace rollwright::cli {
namespace {

struct RecallOptions {
  std::string number;
  std::string day_from, day_to;
  shop::RecallGiven given;
  shop::ToldGiven told;
  shop::RecallClosing closing;
  std::string pdf, csv;
};

Result<std::optional<Day>> day_said(const std::string& text, const char* field) {
  if (text.empty()) return std::optional<Day>();
  const Result<Day> day = parse_day(text);
  if (day) return std::optional(*day);
  return refuse(Code::kBadInput, "this must be a day as in 2026-11-25",
                {.field = field, .value = text});
}

/// `rollwright recall`: shows one, or writes a notice down.
int one_recall(const RecallOptions& options, const Common& common, shop::Shop& shop) {
  if (!options.number.empty()) return answer(common, shop.recalls().recall(options.number));
  const auto from = day_said(options.day_from, "day-from");
  const auto to = day_said(options.day_to, "day-to");
  if (!from || !to) return fail(common, from ? to.error() : from.error());
  shop::RecallGiven given = options.given;
  given.who = common.who;
  given.day_from = *from;
  given.day_to = *to;
  return answer(common, shop.recalls().open(given));
}

void add_recall(Verbs& verbs, const std::shared_ptr<RecallOptions>& options) {
  CLI::App* recall = verbs.add(
      "recall", "one recall; without a number: write a notice down and stop the sale",
      [options](const Common& common, shop::Shop& shop) {
        return one_recall(*options, common, shop);
      });
  shop::RecallGiven& given = options->given;
  recall->add_option("number", options->number, "number of the recall, as in R1");
  recall->add_option("--part", given.part, "part that is called back");
  recall->add_option("--kind", given.kind, "or: every part of this kind ...");
  recall->add_option("--maker", given.maker, "... by this maker");
  recall->add_option("--lot", given.lot_from, "lot, or the first of a range");
  recall->add_option("--lot-to", given.lot_to, "last lot of the range");
  recall->add_option("--serial", given.serial_from, "number, or the first of a range");
  recall->add_option("--serial-to", given.serial_to, "last number of the range");
  recall->add_option("--day-from", options->day_from, "pieces that came on this day or later");
  recall->add_option("--day-to", options->day_to, "pieces that came on this day or before");
  recall->add_option("--wrong", given.wrong, "what is wrong");
  recall->add_flag("--danger", given.danger, "somebody may be hurt");
  recall->add_option("--remedy", given.remedy, "what is done about it");
  recall->add_option("--notice", given.notice, "who issued the notice, and its number");
}

void add_told(Verbs& verbs, const std::shared_ptr<RecallOptions>& options) {
  CLI::App* told = verbs.add("recall-told", "write down what was done about one bike of a recall",
                             [options](const Common& common, shop::Shop& shop) {
                               shop::ToldGiven given = options->told;
                               given.who = common.who;
                               return answer(common, shop.recalls().tell(options->number, given));
                             });
  told->add_option("number", options->number, "number of the recall")->required();
  told->add_option("order", options->told.order, "order of the bike")->required();
  told->add_option("status", options->told.status,
                   "told, \"no answer\", booked, fixed, refused or \"sold on\"")
      ->required();
  told->add_option("--channel", options->told.channel, "telephone, letter, mail");
  told->add_option("--note", options->told.note, "what was said");
}

void add_close(Verbs& verbs, const std::shared_ptr<RecallOptions>& options) {
  CLI::App* close = verbs.add("recall-close", "close a recall; takes its stop-sale off",
                              [options](const Common& common, shop::Shop& shop) {
                                shop::RecallClosing given = options->closing;
                                given.who = common.who;
                                return answer(common,
                                              shop.recalls().close(options->number, given));
                              });
  close->add_option("number", options->number, "number of the recall")->required();
  close->add_option("--note", options->closing.note, "why, while bikes are not fixed");
}

int write_list(const RecallOptions& options, const Common& common, shop::Shop& shop) {
  if (options.pdf.empty() && options.csv.empty()) {
    return answer(common, shop.recalls().recall(options.number));
  }
  int code = 0;
  if (!options.pdf.empty()) {
    code = write_paper(common, shop.recalls().list_pdf(options.number), options.pdf);
  }
  if (code != 0 || options.csv.empty()) return code;
  return write_paper(common, shop.recalls().list_csv(options.number), options.csv);
}

void add_list(Verbs& verbs, const std::shared_ptr<RecallOptions>& options) {
  CLI::App* list = verbs.add("recall-list", "who has to be told, to print or as a table",
                             [options](const Common& common, shop::Shop& shop) {
                               return write_list(*options, common, shop);
                             });
  list->add_option("number", options->number, "number of the recall")->required();
  list->add_option("--pdf", options->pdf, "write it as a PDF to this file");
  list->add_option("--csv", options->csv, "write it as CSV to this file");
}

void add_rows(Columns& columns, const std::vector<shop::RecalledBike>& bikes) {
  for (const shop::RecalledBike& bike : bikes) {
    columns.row({bike.order, bike.state, bike.rider, bike.contact, bike.name, bike.serial,
                 bike.lot, bike.certainty, bike.stop_sale ? "Stop-sale" : "", bike.status});
  }
}

std::string line_text(const shop::RecallLine& line) {
  return fmt::format("{}{}{}: {}. {}. {}{}\n", line.number, line.danger ? " DANGER" : "",
                     line.closed ? " closed" : "", line.part, line.wrong, line.progress,
                     line.held > 0 ? fmt::format("; {} on stop-sale", line.held) : "");
}

}  // namespace

std::string as_text(const shop::RecallsView& view) {
  std::string text = view.sentence + "\n";
  for (const shop::RecallLine& line : view.recalls) text += line_text(line);
  return text;
}

std::string as_text(const shop::RecallView& view) {
  std::string text = line_text(view.line);
  if (!view.ranges.empty()) text += view.ranges + "\n";
  if (!view.line.remedy.empty()) text += "Remedy: " + view.line.remedy + "\n";
  Columns columns(std::vector<Columns::Side>(10, Columns::Side::kLeft));
  add_rows(columns, view.bikes);
  add_rows(columns, view.orders);
  text += columns.text();
  for (const shop::RecalledStock& stock : view.stock) {
    text += fmt::format("{} ({})\n", stock.sentence, stock.certainty);
  }
  return text;
}

void add_recall_verbs(Verbs& verbs) {
  verbs.add("recalls", "parts that were called back, and how many riders were told",
            [](const Common& common, shop::Shop& shop) {
              return answer(common, shop.recalls().list());
            });
  const auto options = std::make_shared<RecallOptions>();
  add_recall(verbs, options);
  add_told(verbs, options);
  add_close(verbs, options);
  add_list(verbs, options);
}

}  // namespace rollwright::cli
