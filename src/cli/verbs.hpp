#pragma once

#include <functional>
#include <iostream>
#include <memory>
#include <string>

#include <CLI/CLI.hpp>

#include "cli/as_text.hpp"
#include "json/answers.hpp"
#include "shop/shop.hpp"

/// What every verb of the command line has in common, and where the verbs are declared: each file
/// of verbs keeps what its verbs ask for to itself.
namespace rollwright::cli {

/// What a person says beside any verb.
struct Common {
  bool json = false;
  /// A person of the shop; without one the journal says where the change came from.
  std::string who = "command line";
};

/// Prints the refusal to the error stream (with --json, as JSON to the output). Returns the exit code.
int fail(const Common& common, const Error& error);

/// Prints an answer or the refusal. Returns the exit code.
template <class T>
int answer(const Common& common, const Result<T>& result) {
  if (!result) return fail(common, result.error());
  std::cout << (common.json ? json::text_of(*result) + "\n" : as_text(*result));
  return 0;
}

/// Writes a file that a person asked for by name. Errors: kUnavailable naming it.
[[nodiscard]] Result<void> write_file(const std::string& path, const std::string& bytes);

/// Writes a paper to a file, or prints the refusal. Returns the exit code.
int write_paper(const Common& common, const Result<std::string>& paper, const std::string& file);

/// A verb, once a person has said it: with a book, or without one.
using Verb = std::function<int(const Common&, shop::Shop&)>;
using BooklessVerb = std::function<int(const Common&)>;

class Verbs {
 public:
  explicit Verbs(CLI::App& app) : app_(app) {}

  CLI::App* add(const char* name, const char* help, Verb run) {
    return add_to(app_, name, help, std::move(run));
  }
  /// Under a verb of its own, as in `catalogue import`.
  CLI::App* add_to(CLI::App& above, const char* name, const char* help, Verb run);
  CLI::App* add_bookless(const char* name, const char* help, BooklessVerb run);
  CLI::App* group(const char* name, const char* help);

  /// Which was said; one of them, after parsing.
  Verb said;
  BooklessVerb said_bookless;

 private:
  CLI::App& app_;
};

void add_shop_verbs(Verbs& verbs);       // shop_verbs.cpp: import, today, serve ...
void add_plan_verbs(Verbs& verbs);       // plan_verbs.cpp: plan, plan-anew, move, away, calendar ...
void add_order_verbs(Verbs& verbs);      // order_verbs.cpp: order, choices, promise, sheet ...
void add_life_verbs(Verbs& verbs);       // life_verbs.cpp: life, move-to, hold, sign-spec ...
void add_maker_verbs(Verbs& verbs);      // maker_verbs.cpp: maker-form, as-built, answer-difference ...
void add_part_verbs(Verbs& verbs);       // part_verbs.cpp: parts, not-known, measure-fact
void add_purchase_verbs(Verbs& verbs);   // purchase_verbs.cpp: buy, place, give-up
void add_goods_verbs(Verbs& verbs);      // goods_verbs.cpp: arrivals, receive, claim, small-stock ...
void add_bench_verbs(Verbs& verbs);      // bench_verbs.cpp: bench, write-down, history, owners-pack, trace
void add_care_verbs(Verbs& verbs);       // care_verbs.cpp: care, visit, ask-for, give-back
void add_catalogue_verbs(Verbs& verbs);  // catalogue_verbs.cpp: catalogue import ...
void add_aid_verbs(Verbs& verbs);        // aid_verbs.cpp: reckon, does, wheel-card
void add_label_verbs(Verbs& verbs);      // label_verbs.cpp: labels
void add_people_verbs(Verbs& verbs);     // people_verbs.cpp: make-owner, set-password, set-pin
void add_recall_verbs(Verbs& verbs);     // recall_verbs.cpp: recall, recalls, recall-told ...
void add_photo_verbs(Verbs& verbs);      // photo_verbs.cpp: photograph, photograph-line, picture
void add_file_verbs(Verbs& verbs);       // file_verbs.cpp: schedule-files

}  // namespace rollwright::cli
