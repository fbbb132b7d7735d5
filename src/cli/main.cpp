#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <iostream>
#include <memory>
#include <optional>

#include <CLI/CLI.hpp>

#include "base/clock.hpp"
#include "cli/as_text.hpp"
#include "cli/completion.hpp"
#include "http/server.hpp"
#include "json/answers.hpp"
#include "shop/shop.hpp"

namespace rollwright::cli {
namespace {

/// Starts at a given moment and goes on from there: the demo plays on a day of its own.
class ShiftedClock final : public Clock {
 public:
  explicit ShiftedClock(std::optional<Instant> start)
      : shift_(start ? *start - SystemClock().now() : std::chrono::seconds(0)) {}
  [[nodiscard]] Instant now() const override { return SystemClock().now() + shift_; }

 private:
  std::chrono::seconds shift_;
};

struct Options {
  std::string book = "rollwright.book";
  std::string trade = ROLLWRIGHT_TRADE_FOLDER;
  std::string now;
  std::string who = "owner";
  bool json = false;
  std::string path, id, slot, part, words, pdf, shell = "bash";
  bool dry_run = false;
  int draws = 2000;
  http::ServeOptions serve;
};

int fail(const Options& options, const Error& error) {
  if (options.json) {
    std::cout << json::text_of(error) << "\n";
  } else {
    std::cerr << "rollwright: " << error.full() << "\n";
  }
  return row_of(error.code).exit_code;
}

template <class T>
int answer(const Options& options, const Result<T>& result) {
  if (!result) return fail(options, result.error());
  std::cout << (options.json ? json::text_of(*result) + "\n" : as_text(*result));
  return 0;
}

int print_import(const Options& options, const Result<shop::ImportReport>& report) {
  const int code = answer(options, report);
  return code == 0 && !report->problems.empty() ? row_of(Code::kBadInput).exit_code : code;
}

int print_check(const Options& options, const Result<shop::OrderView>& order) {
  if (!order) return fail(options, order.error());
  std::cout << (options.json ? json::text_of(*order) + "\n" : check_as_text(*order));
  return 0;
}

int print_sheet(const Options& options, shop::Shop& shop) {
  if (options.pdf.empty()) return answer(options, shop.sheet(options.id));
  const Result<std::string> pdf = shop.sheet_pdf(options.id);
  if (!pdf) return fail(options, pdf.error());
  std::ofstream file(options.pdf, std::ios::binary);
  file.write(pdf->data(), static_cast<std::streamsize>(pdf->size()));
  file.close();
  if (!file) {
    return fail(options, {Code::kUnavailable, "the file cannot be written", {.file = options.pdf}});
  }
  std::cout << "Written to " << options.pdf << "\n";
  return 0;
}

int print_journal(const Options& options, const Result<shop::JournalReport>& report) {
  const int code = answer(options, report);
  return code == 0 && !report->whole ? row_of(Code::kDamaged).exit_code : code;
}

int serve(const Options& options, shop::Shop& shop) {
  const Result<void> served = http::serve(shop, options.serve, [](const std::string& url) {
    std::cout << "The pages are at " << url << "  (stop with Ctrl-C)" << std::endl;
  });
  return served ? 0 : fail(options, served.error());
}

using Verb = std::function<int(const Options&, shop::Shop&)>;

/// Declares the verbs; each names its use case. `chosen` is the one that was asked for.
void add_verbs(CLI::App& app, Options& o, Verb& chosen) {
  const auto verb = [&](const char* name, const char* help, Verb run) {
    CLI::App* sub = app.add_subcommand(name, help);
    sub->callback([&chosen, run = std::move(run)] { chosen = run; });
    return sub;
  };
  const auto with_order = [&o](CLI::App* sub) {
    sub->add_option("order", o.id, "number of the order")->required();
    return sub;
  };
  auto* import = verb("import", "read a shop's files into the book, all or nothing",
                      [](const Options& options, shop::Shop& shop) {
                        return print_import(options, shop.import(options.path, options.who,
                                                                 options.dry_run));
                      });
  import->add_option("path", o.path, "a folder, or one file")->required();
  import->add_flag("--dry-run", o.dry_run, "judge the files, write nothing");
  verb("today", "what needs a person now",
       [](const Options& options, shop::Shop& shop) { return answer(options, shop.today()); });
  verb("orders", "the open orders",
       [](const Options& options, shop::Shop& shop) { return answer(options, shop.orders()); });
  with_order(verb("order", "one order", [](const Options& options, shop::Shop& shop) {
    return answer(options, shop.order(options.id));
  }));
  with_order(verb("check", "whether an order's parts fit", [](const Options& options,
                                                              shop::Shop& shop) {
    return print_check(options, shop.order(options.id));
  }));
  with_order(verb("choices", "what can still go into a slot", [](const Options& options,
                                                                 shop::Shop& shop) {
    return answer(options, shop.choices(options.id, options.slot));
  }))->add_option("slot", o.slot, "slot, as in rear_hub")->required();
  auto* why = with_order(verb("why-not", "why a part is closed", [](const Options& options,
                                                                    shop::Shop& shop) {
    return answer(options, shop.why_not(options.id, options.slot, options.part));
  }));
  why->add_option("slot", o.slot, "slot, as in rear_hub")->required();
  why->add_option("part", o.part, "number of the part")->required();
  with_order(verb("promise", "on which day an order will be ready, with its odds",
                  [](const Options& options, shop::Shop& shop) {
                    return answer(options, shop.promise(options.id, options.draws));
                  }))
      ->add_option("--draws", o.draws, "simulated runs")
      ->check(CLI::Range(1, 1'000'000));
  verb("plan", "who does what, when",
       [](const Options& options, shop::Shop& shop) { return answer(options, shop.plan()); });
  verb("buy", "what to buy, from whom, by which day",
       [](const Options& options, shop::Shop& shop) { return answer(options, shop.buy()); });
  with_order(verb("sheet", "the bench sheet of an order", print_sheet))
      ->add_option("--pdf", o.pdf, "write it as a PDF to this file");
  verb("parts", "the catalogue",
       [](const Options& options, shop::Shop& shop) { return answer(options, shop.parts()); });
  verb("part", "one part with its facts", [](const Options& options, shop::Shop& shop) {
    return answer(options, shop.part(options.part));
  })->add_option("part", o.part, "number of the part")->required();
  verb("find", "orders, riders and parts by words", [](const Options& options, shop::Shop& shop) {
    return answer(options, shop.find(options.words));
  })->add_option("words", o.words)->required();
  verb("verify", "check the journal and the tables against it",
       [](const Options& options, shop::Shop& shop) {
         return print_journal(options, shop.verify());
       });
  auto* pages = verb("serve", "serve the pages", serve);
  pages->add_option("--port", o.serve.port, "0 takes a free one")->check(CLI::Range(0, 65535));
  pages->add_option("--address", o.serve.address, "address to listen on");
}

int run(const Options& options, const Verb& verb, bool create) {
  std::optional<Instant> start;
  if (!options.now.empty()) {
    const Result<Instant> parsed = parse_instant(options.now);
    if (!parsed) {
      Error error = parsed.error();
      error.place.field = "--now";
      return fail(options, error);
    }
    start = *parsed;
  }
  const ShiftedClock clock(start);
  auto shop = shop::Shop::open({.trade_folder = options.trade, .book = options.book}, clock, create);
  if (!shop) return fail(options, shop.error());
  return verb(options, **shop);
}

int main(int argc, char** argv) {
  CLI::App app("The tool of a bicycle shop that builds to order.\n"
               "Exit codes: 0 done, 2 wrong input, 3 not found, 4 conflict, 5 refused, 6 not "
               "allowed, 7 damaged, 8 unavailable.");
  app.name("rollwright");
  app.require_subcommand(1);
  app.fallthrough();
  app.set_version_flag("--version", ROLLWRIGHT_VERSION);
  Options options;
  app.add_option("--book", options.book, "the book's file")->envname("ROLLWRIGHT_BOOK");
  app.add_option("--trade", options.trade, "folder of the trade data")->envname("ROLLWRIGHT_TRADE");
  app.add_option("--now", options.now, "let the clock start at this moment, as in "
                                       "2026-11-25T08:30:00Z")
      ->envname("ROLLWRIGHT_NOW");
  app.add_option("--who", options.who, "who asks; stands in the journal")
      ->envname("ROLLWRIGHT_WHO");
  app.add_flag("--json", options.json, "answer as JSON");
  Verb chosen;
  bool make = false;
  bool complete = false;
  app.add_subcommand("make-book", "make an empty book")->callback([&] { make = true; });
  auto* completion = app.add_subcommand("completion", "words for the shell's tab key");
  completion->add_option("shell", options.shell)->check(CLI::IsMember({"bash"}));
  completion->callback([&] { complete = true; });
  add_verbs(app, options, chosen);
  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& trouble) {
    return app.exit(trouble) == 0 ? 0 : row_of(Code::kBadInput).exit_code;
  }
  if (complete) {
    std::vector<std::string> verbs;
    for (const CLI::App* sub : app.get_subcommands(nullptr)) verbs.push_back(sub->get_name());
    std::cout << bash_completion(verbs);
    return 0;
  }
  if (make) {
    chosen = [](const Options& o, shop::Shop& shop) { return print_journal(o, shop.verify()); };
  }
  return run(options, chosen, make);
}

}  // namespace
}  // namespace rollwright::cli

int main(int argc, char** argv) { return rollwright::cli::main(argc, argv); }
