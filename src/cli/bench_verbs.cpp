#include <fmt/format.h>

#include "base/text.hpp"
#include "cli/columns.hpp"
#include "cli/verbs.hpp"
#include "shop/bench_desk.hpp"

namespace rollwright::cli {
namespace {

/// What these verbs may ask for.
struct BenchOptions {
  std::string order;
  shop::DeedGiven deed;
  shop::TraceWish wish;
};

std::string standing_text(const shop::BenchOperation& operation) {
  std::string text = operation.standing;
  if (!operation.running.empty()) text += ", " + operation.running;
  if (!operation.because.empty()) text += ": " + operation.because;
  if (!operation.waits_for.empty()) text += " (after " + join(operation.waits_for, ", ") + ")";
  return text;
}

int readings_taken(const shop::BenchOperation& operation) {
  int taken = 0;
  for (const shop::BenchReading& reading : operation.readings) {
    for (const shop::BenchPoint& point : reading.points) taken += point.outcome.empty() ? 0 : 1;
  }
  return taken;
}

int readings_wanted(const shop::BenchOperation& operation) {
  int wanted = 0;
  for (const shop::BenchReading& reading : operation.readings) {
    wanted += static_cast<int>(reading.points.size());
  }
  return wanted;
}

void add_bench(Verbs& verbs) {
  auto options = std::make_shared<BenchOptions>();
  CLI::App* bench = verbs.add(
      "bench", "bikes that can be worked on; with an order, how far its bike is",
      [options](const Common& common, shop::Shop& shop) {
        return options->order.empty() ? answer(common, shop.bench().list())
                                      : answer(common, shop.bench().bike(options->order));
      });
  bench->add_option("order", options->order, "order");
}

void add_write_down(Verbs& verbs) {
  auto options = std::make_shared<BenchOptions>();
  CLI::App* write = verbs.add(
      "write-down",
      "write into a bike's record: started, paused, done, read, redo, fault, mended, hand, kitted, on, "
      "off, paired, checked, signed, noted; of a bike in care also asked, left out",
      [options](const Common& common, shop::Shop& shop) {
        return answer(common, shop.bench().write(options->order,
                                                 {.who = common.who, .key = {},
                                                  .deeds = {options->deed}}));
      });
  shop::DeedGiven& deed = options->deed;
  write->add_option("order", options->order, "order")->required();
  write->add_option("deed", deed.deed, "what was done")->required();
  write->add_option("about", deed.about, "operation, place of a part, line of a list");
  write->add_option("--reading", deed.reading, "what was read");
  write->add_option("--point", deed.point, "at which point of several, from 1");
  write->add_option("--value", deed.value, "number, with its unit or in the reading's");
  write->add_option("--outcome", deed.outcome, "pass, fix or stop");
  write->add_option("--tool", deed.tool, "tool it was set or read with");
  write->add_option("--part", deed.part, "another part than the order's, on a bike in care");
  write->add_option("--serial", deed.serial, "number on the part");
  write->add_option("--lot", deed.lot, "lot of the part");
  write->add_option("--hand", deed.hand, "person who lends a hand; left out: nobody is needed");
  write->add_option("--note", deed.note, "why, or what was found");
}

void add_history(Verbs& verbs) {
  auto options = std::make_shared<BenchOptions>();
  CLI::App* history = verbs.add("history", "everything that is written down of a bike",
                                [options](const Common& common, shop::Shop& shop) {
                                  return answer(common, shop.bench().history(options->order));
                                });
  history->add_option("order", options->order, "order")->required();
}

/// `history-pdf` and `owners-pack`: written to a file.
void add_paper(Verbs& verbs, const char* name, const char* help,
               Result<std::string> (shop::BenchDesk::*paper)(const std::string&)) {
  auto order = std::make_shared<std::string>();
  auto file = std::make_shared<std::string>();
  CLI::App* verb = verbs.add(name, help, [=](const Common& common, shop::Shop& shop) {
    return write_paper(common, (shop.bench().*paper)(*order), *file);
  });
  verb->add_option("order", *order, "order")->required();
  verb->add_option("--pdf", *file, "file to write")->required();
}

void add_trace(Verbs& verbs) {
  auto options = std::make_shared<BenchOptions>();
  CLI::App* trace = verbs.add("trace", "bikes, kits and stock with parts of a lot or number",
                              [options](const Common& common, shop::Shop& shop) {
                                return answer(common, shop.bench().trace(options->wish));
                              });
  shop::TraceWish& wish = options->wish;
  trace->add_option("--part", wish.part, "part's number in the catalogue");
  trace->add_option("--lot", wish.lot_from, "lot, or the first of a range");
  trace->add_option("--lot-to", wish.lot_to, "last lot of the range");
  trace->add_option("--serial", wish.serial_from, "number, or the first of a range");
  trace->add_option("--serial-to", wish.serial_to, "last number of the range");
}

}  // namespace

std::string as_text(const shop::BenchListView& view) {
  std::string text;
  for (const shop::BenchBike& bike : view.bikes) {
    text += fmt::format("{} {}, {}: {} of {} operations done{}\n", bike.order, bike.rider,
                        bike.frame, bike.done, bike.operations,
                        bike.blocked.empty() ? std::string() : "; " + bike.blocked);
    if (!bike.visit.empty()) text += "  here for: " + bike.visit + "\n";
    for (const std::string& stop : bike.stops) text += "  STOP " + stop + "\n";
    for (const shop::BenchNow& now : bike.now) {
      text += fmt::format("  {:<5} {}, {}{}\n", now.operation, now.name, now.standing,
                          now.who.empty() ? std::string() : ", " + now.who);
    }
  }
  for (const shop::ToolView& tool : view.tools) {
    text += fmt::format("{} {}: {}\n", tool.id, tool.name, tool.sentence);
  }
  return text;
}

std::string as_text(const shop::BenchView& view) {
  std::string text = fmt::format("{} {}, {}: {} of {} operations done\n", view.order, view.rider,
                                 view.frame, view.done, view.operations.size());
  if (!view.blocked.empty()) text += view.blocked + "\n";
  if (view.visit) text += "Here for: " + view.visit->about + "\n";
  for (const std::string& stop : view.stops) text += "STOP " + stop + "\n";
  using enum Columns::Side;
  Columns columns({kLeft, kLeft, kLeft, kRight});
  for (const shop::BenchOperation& operation : view.operations) {
    const int wanted = readings_wanted(operation);
    columns.row({operation.operation, operation.name, standing_text(operation),
                 wanted == 0 ? std::string()
                             : fmt::format("{} of {} read", readings_taken(operation), wanted)});
  }
  text += columns.text() + view.as_far.sentence + "\n";
  Columns checks({kLeft, kLeft, kLeft, kLeft, kLeft});
  for (const shop::BenchCheck& check : view.checks) {
    checks.row({check.id, check.mark, check.outcome.empty() ? "open" : check.outcome, check.who,
                check.text});
  }
  return text + checks.text();
}

std::string as_text(const shop::WrittenView& view) {
  if (view.already) return fmt::format("It stands in the record of {} already.\n", view.order);
  std::string text;
  for (const shop::WrittenLine& line : view.lines) {
    text += fmt::format("Line {} of the record of {}: {}\n", line.number, view.order, line.sentence);
  }
  return text;
}

std::string as_text(const shop::HistoryView& view) {
  std::string text = fmt::format("Order {}, {}: {}\n", view.order, view.rider, view.build);
  for (const shop::HistoryLine& line : view.lines) {
    text += fmt::format("{:>4}  {}  {}: {}\n", line.number, line.at, line.who, line.sentence);
  }
  return text + fmt::format("{} journal entries, the last with the hash {}\n", view.journal.size(),
                            view.last_hash.empty() ? "none" : view.last_hash);
}

std::string as_text(const shop::TraceView& view) {
  std::string text = view.sentence + "\n";
  Columns columns(std::vector<Columns::Side>(9, Columns::Side::kLeft));
  for (const shop::TracedBike& bike : view.bikes) {
    columns.row({bike.certainty, bike.order, bike.state, bike.rider, bike.contact, bike.slot,
                 bike.name, bike.serial, bike.lot});
  }
  for (const shop::TracedStock& stock : view.stock) {
    columns.row({stock.place, stock.line, "", "", "", fmt::format("{} pieces", stock.pieces),
                 stock.name, stock.serial, stock.lot});
  }
  return text + columns.text();
}

void add_bench_verbs(Verbs& verbs) {
  add_bench(verbs);
  add_write_down(verbs);
  add_history(verbs);
  add_paper(verbs, "history-pdf", "everything that is written down of a bike, to print",
            &shop::BenchDesk::history_pdf);
  add_paper(verbs, "owners-pack", "what the rider takes home, to print",
            &shop::BenchDesk::owners_pack_pdf);
  add_trace(verbs);
}

}  // namespace rollwright::cli
