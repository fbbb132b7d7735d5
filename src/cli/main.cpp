#include <iostream>
#include <optional>

#include "base/clock.hpp"
#include "cli/completion.hpp"
#include "cli/verbs.hpp"
#include "shop/people_desk.hpp"

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

struct Asked {
  std::string book = "rollwright.book";
  std::string trade = ROLLWRIGHT_TRADE_FOLDER;
  std::string now;
  std::string who;
};

int run(const Asked& asked, Common common, const Verb& verb, bool create) {
  std::optional<Instant> start;
  if (!asked.now.empty()) {
    const Result<Instant> parsed = parse_instant(asked.now);
    if (!parsed) {
      Error error = parsed.error();
      error.place.field = "--now";
      return fail(common, error);
    }
    start = *parsed;
  }
  const ShiftedClock clock(start);
  auto shop = shop::Shop::open({.trade_folder = asked.trade, .book = asked.book}, clock, create);
  if (!shop) return fail(common, shop.error());
  if (!asked.who.empty()) {
    const auto person = (*shop)->people_desk().called(asked.who, "--who");
    if (!person) return fail(common, person.error());
    common.who = person->text;
  }
  return verb(common, **shop);
}

void add_common_options(CLI::App& app, Asked& asked, Common& common) {
  app.add_option("--book", asked.book, "the book's file")->envname("ROLLWRIGHT_BOOK");
  app.add_option("--trade", asked.trade, "folder of the trade data")->envname("ROLLWRIGHT_TRADE");
  app.add_option("--now", asked.now, "let the clock start at this moment, as in "
                                     "2026-11-25T08:30:00Z")
      ->envname("ROLLWRIGHT_NOW");
  app.add_option("--who", asked.who, "who of the shop asks; stands in the journal")
      ->envname("ROLLWRIGHT_WHO");
  app.add_flag("--json", common.json, "answer as JSON");
}

/// `rollwright completion`: the verbs, for the shell.
void add_completion(CLI::App& app, Verbs& verbs) {
  const auto shell = std::make_shared<std::string>("bash");
  verbs.add_bookless("completion", "words for the shell's tab key", [&app](const Common&) {
    std::vector<std::string> names;
    for (const CLI::App* sub : app.get_subcommands(nullptr)) names.push_back(sub->get_name());
    std::cout << bash_completion(names);
    return 0;
  })->add_option("shell", *shell)->check(CLI::IsMember({"bash"}));
}

int main(int argc, char** argv) {
  CLI::App app("The tool of a bicycle shop that builds to order.\n"
               "Exit codes: 0 done, 2 wrong input, 3 not found, 4 conflict, 5 refused, 6 not "
               "allowed, 7 damaged, 8 unavailable.");
  app.name("rollwright");
  app.require_subcommand(1);
  app.fallthrough();
  app.set_version_flag("--version", ROLLWRIGHT_VERSION);
  Asked asked;
  Common common;
  add_common_options(app, asked, common);
  Verbs verbs(app);
  bool make = false;
  verbs.add("make-book", "make an empty book", [](const Common& c, shop::Shop& shop) {
    return answer(c, shop.verify());
  })->parse_complete_callback([&make] { make = true; });
  add_completion(app, verbs);
  add_aid_verbs(verbs);
  add_file_verbs(verbs);
  add_people_verbs(verbs);
  add_shop_verbs(verbs);
  add_plan_verbs(verbs);
  add_order_verbs(verbs);
  add_life_verbs(verbs);
  add_part_verbs(verbs);
  add_purchase_verbs(verbs);
  add_goods_verbs(verbs);
  add_bench_verbs(verbs);
  add_care_verbs(verbs);
  add_recall_verbs(verbs);
  add_maker_verbs(verbs);
  add_photo_verbs(verbs);
  add_catalogue_verbs(verbs);
  add_label_verbs(verbs);
  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& trouble) {
    return app.exit(trouble) == 0 ? 0 : row_of(Code::kBadInput).exit_code;
  }
  if (verbs.said_bookless) return verbs.said_bookless(common);
  return run(asked, common, verbs.said, make);
}

}  // namespace
}  // namespace rollwright::cli

int main(int argc, char** argv) { return rollwright::cli::main(argc, argv); }
