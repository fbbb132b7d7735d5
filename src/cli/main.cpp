#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <iostream>
#include <memory>
#include <optional>

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include "aids/aids.hpp"
#include "base/clock.hpp"
#include "base/text.hpp"
#include "cli/as_text.hpp"
#include "cli/catalogue_verbs.hpp"
#include "cli/completion.hpp"
#include "cli/goods_verbs.hpp"
#include "cli/schedule_files.hpp"
#include "http/order_aid.hpp"
#include "http/order_does.hpp"
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
  shop::CompletionWish wish;
  shop::AnswerGiven answer;
  std::string attribute, read_in, day;
  shop::FactGiven fact;
  CatalogueOptions list;
  GoodsOptions goods;
  std::string aid;
  std::vector<std::string> fields;  // "front=44"
  std::string for_order, end;
  bool about = false;
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

/// "front=44" and the like.
Result<aids::Typed> typed_fields(const Options& options) {
  aids::Typed typed;
  for (const std::string& field : options.fields) {
    const std::size_t equals = field.find('=');
    if (equals == std::string::npos) {
      return refuse(Code::kBadInput, "a field is given as name=value, as in front=44",
                    {.value = field});
    }
    typed[field.substr(0, equals)] = field.substr(equals + 1);
  }
  return typed;
}

/// `rollwright reckon AID --order ORDER`: the fields come from the order.
int reckon_for_order(const Options& options, shop::Shop& shop) {
  const Result<aids::Typed> typed = typed_fields(options);
  if (!typed) return fail(options, typed.error());
  const auto filled = http::order_aid(shop, {.order = options.for_order, .aid = options.aid,
                                             .end = options.end, .typed = *typed});
  const auto aid = aids::aid_called(options.aid);
  if (filled && aid && !options.json && !(*aid)->caution.empty()) {
    std::cout << "Caution: " << (*aid)->caution << "\n";
  }
  const int code = answer(options, filled);
  return code == 0 && filled->refusal ? row_of(filled->refusal->code).exit_code : code;
}

/// `rollwright wheel-card ORDER END`: that aid, filled from the order.
int wheel_card(const Options& options, shop::Shop& shop) {
  Options asked = options;
  asked.aid = "wheel-card";
  asked.for_order = options.id;
  return reckon_for_order(asked, shop);
}

/// `rollwright reckon`: needs no book.
int reckon(const Options& options) {
  if (options.aid.empty()) {
    std::cout << (options.json ? json::text_of(aids::all_aids()) + "\n"
                               : as_text(aids::all_aids()));
    return 0;
  }
  const auto aid = aids::aid_called(options.aid);
  if (!aid) return fail(options, aid.error());
  if (options.about) {
    std::cout << (options.json ? json::text_of(std::vector{**aid}) + "\n" : about(**aid));
    return 0;
  }
  Result<aids::Typed> given = typed_fields(options);
  if (!given) return fail(options, given.error());
  aids::Typed& typed = *given;
  const aids::Input* file = aids::file_field(**aid);
  if (file != nullptr && typed.contains(file->key)) {
    Result<std::string> content = read_file(typed[file->key]);
    if (!content) return fail(options, content.error());
    typed[file->key] = std::move(*content);
  }
  const Result<aids::Reckoned> reckoned = aids::reckon(options.aid, typed);
  if (reckoned && !options.json && !(*aid)->caution.empty()) {
    std::cout << "Caution: " << (*aid)->caution << "\n";
  }
  return answer(options, reckoned);
}

/// `rollwright answer`: to the order as it stands now.
int answer_question(const Options& options, shop::Shop& shop) {
  const Result<shop::OrderView> order = shop.order(options.id);
  if (!order) return fail(options, order.error());
  shop::AnswerGiven given = options.answer;
  given.revision = order->revision;
  const Result<shop::OrderView> answered = shop.answer_question(options.id, given, options.who);
  if (!answered || options.json) return answer(options, answered);
  std::cout << fmt::format("{}: {}. Order {}: {}.\n", given.question, given.answer, options.id,
                           answered->spec.verdict);
  return 0;
}

/// `rollwright measure-fact`: measured, unless it says in which document it was read.
int measure_fact(const Options& options, shop::Shop& shop) {
  shop::FactGiven given = options.fact;
  if (!options.read_in.empty()) {
    if (!given.by.empty() || !given.source.empty()) {
      return fail(options, {Code::kContradiction,
                            "a fact is either measured (--by, --source) or read in a document "
                            "(--read-in, --day)",
                            {.field = "--read-in", .value = options.read_in}});
    }
    given.standing = "known";
    given.source = options.read_in;
  }
  if (!options.day.empty()) {
    const Result<Day> day = parse_day(options.day);
    if (!day) return fail(options, {day.error().code, day.error().sentence, {.field = "--day",
                                                                             .value = options.day}});
    given.day = *day;
  }
  return answer(options, shop.measure_fact(options.part, options.attribute, given, options.who));
}

int print_sheet(const Options& options, shop::Shop& shop) {
  if (options.pdf.empty()) return answer(options, shop.sheet(options.id));
  const Result<std::string> pdf = http::order_sheet_pdf(shop, options.id);
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

int catalogue_propose(const Options& options, shop::Shop& shop) {
  const Result<shop::GivenList> given = given_list(options.list);
  return given ? answer(options, shop.propose_mapping(*given)) : fail(options, given.error());
}

int catalogue_preview(const Options& options, shop::Shop& shop) {
  const Result<shop::GivenList> given = given_list(options.list);
  if (!given) return fail(options, given.error());
  const auto preview = shop.preview_catalogue(*given);
  if (!preview) return fail(options, preview.error());
  if (const auto ok = write_refused(options.list, *preview); !ok) return fail(options, ok.error());
  const int code = answer(options, preview);
  return code == 0 && !is_clean(*preview) ? row_of(Code::kBadInput).exit_code : code;
}

int catalogue_import(const Options& options, shop::Shop& shop) {
  const Result<shop::GivenList> given = given_list(options.list);
  if (!given) return fail(options, given.error());
  const auto taken = shop.import_catalogue(
      *given, {.dry_run = options.dry_run, .skip_bad_rows = options.list.skip_bad_rows},
      options.who);
  if (!taken) return fail(options, taken.error());
  if (const auto ok = write_refused(options.list, taken->preview); !ok) {
    return fail(options, ok.error());
  }
  const int code = answer(options, taken);
  const bool wrong = !taken->taken && !is_clean(taken->preview) &&
                     !(options.dry_run && options.list.skip_bad_rows &&
                       taken->preview.problems.empty());
  return code == 0 && wrong ? row_of(Code::kBadInput).exit_code : code;
}

/// `rollwright schedule-files`: needs no book.
int schedule(const Options& options, const ScheduleFilesOptions& wish) {
  const auto files = schedule_files(wish);
  if (!files) return fail(options, files.error());
  std::cout << (options.json ? as_json(*files) + "\n" : as_text(*files));
  return exit_code_of(*files);
}

/// Declares `schedule-files`; `asked` becomes true when it is the one that was asked for.
void add_schedule_files(CLI::App& app, ScheduleFilesOptions& wish, bool& asked) {
  auto* sub = app.add_subcommand("schedule-files",
                                 "plan every benchmark project, job shop or line of a folder");
  sub->add_option("path", wish.path, "a folder or file: .sm, .txt (job shop), .IN2, .alb")
      ->required();
  sub->add_option("--bounds", wish.bounds, "published bounds: instance, best_lb, best_ub (CSV)");
  sub->add_option("--schedules", wish.schedules, "most schedules to generate for each")
      ->check(CLI::Range(0LL, 1'000'000'000LL));
  sub->add_option("--seed", wish.seed, "start of the random numbers");
  sub->add_option("--prove", wish.prove_s, "CPU seconds to spend on a proof of each")
      ->check(CLI::Range(0.0, 1e6));
  sub->add_option("--takt", wish.takt, "of lines, in time units; as in the file when left out")
      ->check(CLI::Range(1, 1'000'000'000));
  sub->add_option("--stations", wish.stations, "of lines: the shortest takt for so many")
      ->check(CLI::Range(1, 2'000));
  sub->callback([&asked] { asked = true; });
}

using Verb = std::function<int(const Options&, shop::Shop&)>;

/// `rollwright catalogue ...`: suppliers' lists.
void add_catalogue(CLI::App& app, Options& o, Verb& chosen) {
  CLI::App* catalogue = app.add_subcommand("catalogue", "suppliers' lists: parts and offers");
  catalogue->require_subcommand(1);
  const auto verb = [&](const char* name, const char* help, Verb run) {
    CLI::App* sub = catalogue->add_subcommand(name, help);
    sub->callback([&chosen, run = std::move(run)] { chosen = run; });
    return sub;
  };
  const auto with_list = [&o](CLI::App* sub) {
    sub->add_option("file", o.list.path, "the supplier's list, CSV")->required();
    sub->add_option("--supplier", o.list.supplier, "whose list it is")->required();
    sub->add_option("--day", o.list.day, "day of the list; today when left out");
    return sub;
  };
  const auto with_mapping = [&](CLI::App* sub) {
    with_list(sub)->add_option("--mapping", o.list.mapping,
                               "how its columns are read; as saved or proposed when left out");
    sub->add_option("--take-over", o.list.take_over,
                    "a measured fact that the list's word replaces, as in \"HB-0412 mass\"");
    sub->add_option("--refused", o.list.refused, "write the refused rows to this file");
    return sub;
  };
  with_list(verb("propose", "what the columns of a list seem to say, as a mapping file",
                 catalogue_propose));
  with_mapping(verb("preview", "what taking a list in would do", catalogue_preview));
  auto* import = with_mapping(verb("import", "take a list in, all rows or none", catalogue_import));
  import->add_flag("--dry-run", o.dry_run, "judge the list, write nothing");
  import->add_flag("--skip-bad-rows", o.list.skip_bad_rows, "take the good rows without the others");
  verb("undo", "take a list back", [](const Options& options, shop::Shop& shop) {
    return answer(options, shop.undo_import(options.list.number, options.who));
  })->add_option("number", o.list.number, "number of the list; the newest when left out");
  verb("lists", "the lists that were taken in", [](const Options& options, shop::Shop& shop) {
    return answer(options, shop.imports());
  });
}

/// `rollwright arrivals`, `receive` and the others of cli/goods_verbs.hpp.
void add_goods_verbs(CLI::App& app, Options& o, Verb& chosen) {
  add_goods(app, o.goods, [&chosen](GoodsVerb verb) {
    chosen = [verb = std::move(verb)](const Options& options, shop::Shop& shop) {
      const Result<GoodsAnswer> done = verb(shop, options.who);
      if (!done) return fail(options, done.error());
      if (done->stock) return answer(options, Result<shop::SmallStockView>(*done->stock));
      if (done->part) return answer(options, Result<shop::PartView>(*done->part));
      return done->all ? answer(options, Result<shop::ArrivalsView>(*done->all))
                       : answer(options, Result<shop::ArrivalLine>(*done->line));
    };
  });
}

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
  with_order(verb("does", "what an order's bike does: gears, hills, stopping, heat, tyres",
                  [](const Options& options, shop::Shop& shop) {
                    return answer(options, http::order_does(shop, options.id));
                  }));
  auto* card = with_order(verb("wheel-card", "one wheel of an order before it is built", wheel_card));
  card->add_option("end", o.end, "front or rear")->required()->check(CLI::IsMember({"front", "rear"}));
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
  auto* complete = with_order(verb("complete", "fill the rest of an order with the best parts",
                                   [](const Options& options, shop::Shop& shop) {
                                     return answer(options, shop.complete(options.id, options.wish));
                                   }));
  complete->add_option("--aim", o.wish.aim, "cheapest, lightest, soonest or weighted");
  complete->add_option("--cents-per-kg", o.wish.cents_per_kg, "what a kilogram less is worth");
  complete->add_option("--cents-per-day", o.wish.cents_per_day, "what a day sooner is worth");
  with_order(verb("trade-offs", "whole bikes between cheapest, lightest and soonest",
                  [](const Options& options, shop::Shop& shop) {
                    return answer(options, shop.trade_offs(options.id));
                  }));
  with_order(verb("repair", "the fewest changes that mend a broken specification",
                  [](const Options& options, shop::Shop& shop) {
                    return answer(options, shop.repairs(options.id));
                  }));
  auto* questions = verb("questions", "what a person has to answer",
                         [](const Options& options, shop::Shop& shop) {
                           return answer(options, shop.questions(options.id));
                         });
  questions->add_option("order", o.id, "number of the order; left out: what is open on all");
  auto* said = with_order(verb("answer", "answer a question of an order", answer_question));
  said->add_option("question", o.answer.question, "as in C-172")->required();
  said->add_option("answer", o.answer.answer, "yes, no or \"not yet\"")->required();
  said->add_option("--note", o.answer.note, "one line that goes with it");
  verb("not-known", "facts that open orders wait for, the dearest first",
       [](const Options& options, shop::Shop& shop) {
         return answer(options, shop.not_known_facts());
       });
  auto* fact = verb("measure-fact", "put a fact of a part into the catalogue", measure_fact);
  fact->add_option("part", o.part, "number of the part")->required();
  fact->add_option("attribute", o.attribute, "as in tyre_width")->required();
  fact->add_option("value", o.fact.value, "with its unit, as in \"31.8 mm\" or \"1.25 in\"")
      ->required();
  fact->add_option("--by", o.fact.by, "who measured");
  fact->add_option("--source", o.fact.source, "with what it was measured");
  fact->add_option("--read-in", o.read_in, "the document it was read in, instead of measuring");
  fact->add_option("--day", o.day, "of measuring (today when left out) or of the document");
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
  bool reckons = false;
  auto* aid = app.add_subcommand("reckon", "bench aids: spokes, gears, belts, tyres, torque, fit");
  aid->add_option("aid", options.aid, "as in gears; left out: lists them");
  aid->add_option("fields", options.fields,
                  "name=value, as in front=44 or \"crank=170 mm\"; of a file its path");
  aid->add_option("--order", options.for_order, "fill the fields from this order");
  aid->add_option("--end", options.end, "with an order: which of its ends, front or rear");
  aid->add_flag("--about", options.about, "its fields, method and sources");
  aid->callback([&] { reckons = true; });
  ScheduleFilesOptions files;
  bool schedules = false;
  add_schedule_files(app, files, schedules);
  add_verbs(app, options, chosen);
  add_catalogue(app, options, chosen);
  add_goods_verbs(app, options, chosen);
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
  if (schedules) return schedule(options, files);
  if (reckons && options.for_order.empty()) return reckon(options);
  if (reckons) chosen = reckon_for_order;
  if (make) {
    chosen = [](const Options& o, shop::Shop& shop) { return print_journal(o, shop.verify()); };
  }
  return run(options, chosen, make);
}

}  // namespace
}  // namespace rollwright::cli

int main(int argc, char** argv) { return rollwright::cli::main(argc, argv); }
