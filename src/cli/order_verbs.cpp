#include <fmt/format.h>

#include "cli/verbs.hpp"
#include "http/order_does.hpp"

namespace rollwright::cli {
namespace {

/// What one of these verbs may ask for.
struct OrderWish {
  std::string order, slot, part, pdf;
  shop::CompletionWish completion;
  shop::AnswerGiven answer;
  std::string budget, day, about, done;
  int draws = 2000;
  int draws_each = 400;  // of each way to be sooner
};

int check(const OrderWish& wish, const Common& common, shop::Shop& shop) {
  const auto order = shop.order(wish.order);
  if (!order) return fail(common, order.error());
  std::cout << (common.json ? json::text_of(*order) + "\n" : check_as_text(*order));
  return 0;
}

/// `rollwright answer`: to the order as it stands now.
int answer_question(const OrderWish& wish, const Common& common, shop::Shop& shop) {
  const Result<shop::OrderView> order = shop.order(wish.order);
  if (!order) return fail(common, order.error());
  shop::AnswerGiven given = wish.answer;
  given.revision = order->revision;
  const auto answered = shop.answer_question(wish.order, given, common.who);
  if (!answered || common.json) return answer(common, answered);
  std::cout << fmt::format("{}: {}. Order {}: {}.\n", given.question, given.answer, wish.order,
                           answered->spec.verdict);
  return 0;
}

/// Of the order as it stands now.
Result<std::int64_t> revision_now(shop::Shop& shop, const std::string& order) {
  const Result<shop::OrderView> view = shop.order(order);
  if (!view) return std::unexpected(view.error());
  return view->revision;
}

/// `rollwright budget`: an amount, "nothing said", or "not asked".
Result<shop::OrderView> set_budget(const OrderWish& wish, const std::string& who,
                                   shop::Shop& shop) {
  const auto revision = revision_now(shop, wish.order);
  if (!revision) return std::unexpected(revision.error());
  shop::BudgetGiven given{.revision = *revision};
  if (wish.budget != "not asked") {
    const Result<trade::Budget> budget = trade::parse_budget(wish.budget);
    if (!budget) {
      return refuse(budget.error().code, budget.error().sentence + "; not asked takes it out",
                    {.field = "budget", .value = wish.budget});
    }
    given.nothing_said = !budget->at_most.has_value();
    if (budget->at_most) given.at_most_cents = budget->at_most->cents;
  }
  return shop.set_budget(wish.order, given, who);
}

/// `rollwright follow-up`: a day and what about, or --done with what came of it.
Result<shop::OrderView> follow_up(const OrderWish& wish, const std::string& who,
                                  shop::Shop& shop) {
  if (wish.day.empty() == wish.done.empty()) {
    return refuse(Code::kBadInput, "give either the day and who calls whom about what, or --done "
                                   "with what came of it",
                  {.field = "day", .value = wish.day});
  }
  const auto revision = revision_now(shop, wish.order);
  if (!revision) return std::unexpected(revision.error());
  shop::FollowUpGiven given{.about = wish.day.empty() ? wish.done : wish.about,
                            .revision = *revision};
  if (!wish.day.empty()) {
    const Result<Day> day = parse_day(wish.day);
    if (!day) {
      return refuse(day.error().code, day.error().sentence, {.field = "day", .value = wish.day});
    }
    given.day = *day;
  }
  return shop.follow_up(wish.order, given, who);
}

int print_sheet(const OrderWish& wish, const Common& common, shop::Shop& shop) {
  if (wish.pdf.empty()) return answer(common, shop.sheet(wish.order));
  return write_paper(common, http::order_sheet_pdf(shop, wish.order), wish.pdf);
}

/// Declares verbs that look at one order.
class OrderVerbs {
 public:
  explicit OrderVerbs(Verbs& verbs) : verbs_(verbs), wish_(std::make_shared<OrderWish>()) {}

  /// `run(wish, common, shop)`; the order's number is asked for.
  template <class Run>
  CLI::App* add(const char* name, const char* help, Run run) {
    auto* sub = verbs_.add(name, help,
                           [wish = wish_, run](const Common& common, shop::Shop& shop) {
                             return run(*wish, common, shop);
                           });
    sub->add_option("order", wish_->order, "number of the order")->required();
    return sub;
  }
  /// The same where the use case is asked and its answer printed.
  template <class Ask>
  CLI::App* ask(const char* name, const char* help, Ask ask) {
    return add(name, help, [ask](const OrderWish& wish, const Common& common, shop::Shop& shop) {
      return answer(common, ask(wish, shop));
    });
  }
  /// The same where the use case writes under the name of who asks.
  template <class Write>
  CLI::App* write(const char* name, const char* help, Write write) {
    return add(name, help, [write](const OrderWish& wish, const Common& common, shop::Shop& shop) {
      return answer(common, write(wish, common.who, shop));
    });
  }
  OrderWish& wish() { return *wish_; }

 private:
  Verbs& verbs_;
  std::shared_ptr<OrderWish> wish_;
};

void add_spec_verbs(OrderVerbs& verbs) {
  OrderWish& o = verbs.wish();
  verbs.ask("order", "one order",
            [](const OrderWish& w, shop::Shop& shop) { return shop.order(w.order); });
  verbs.add("check", "whether an order's parts fit", check);
  verbs.ask("choices", "what can still go into a slot", [](const OrderWish& w, shop::Shop& shop) {
    return shop.choices(w.order, w.slot);
  })->add_option("slot", o.slot, "slot, as in rear_hub")->required();
  auto* why = verbs.ask("why-not", "why a part is closed", [](const OrderWish& w, shop::Shop& shop) {
    return shop.why_not(w.order, w.slot, w.part);
  });
  why->add_option("slot", o.slot, "slot, as in rear_hub")->required();
  why->add_option("part", o.part, "number of the part")->required();
  auto* complete = verbs.ask("complete", "fill the rest of an order with the best parts",
                             [](const OrderWish& w, shop::Shop& shop) {
                               return shop.complete(w.order, w.completion);
                             });
  complete->add_option("--aim", o.completion.aim, "cheapest, lightest, soonest or weighted");
  complete->add_option("--cents-per-kg", o.completion.cents_per_kg,
                       "what a kilogram less is worth");
  complete->add_option("--cents-per-day", o.completion.cents_per_day,
                       "what a day sooner is worth");
  verbs.ask("trade-offs", "whole bikes between cheapest, lightest and soonest",
            [](const OrderWish& w, shop::Shop& shop) { return shop.trade_offs(w.order); });
  verbs.ask("repair", "the fewest changes that mend a broken specification",
            [](const OrderWish& w, shop::Shop& shop) { return shop.repairs(w.order); });
  auto* said = verbs.add("answer", "answer a question of an order", answer_question);
  said->add_option("question", o.answer.question, "as in C-172")->required();
  said->add_option("answer", o.answer.answer, "yes, no or \"not yet\"")->required();
  said->add_option("--note", o.answer.note, "one line that goes with it");
}

void add_enquiry_verbs(OrderVerbs& verbs) {
  OrderWish& o = verbs.wish();
  verbs.write("budget", "write down what the customer means to spend at most", set_budget)
      ->add_option("budget", o.budget, "as in 2500, \"nothing said\" or \"not asked\"")
      ->required();
  auto* sub = verbs.write("follow-up", "set the day on which somebody comes back to the customer",
                          follow_up);
  sub->add_option("day", o.day, "as in 2026-12-08");
  sub->add_option("about", o.about, "who calls whom about what, in one line");
  sub->add_option("--done", o.done, "it is done: what came of it, in one line");
}

void add_promise_verbs(OrderVerbs& verbs) {
  OrderWish& o = verbs.wish();
  const auto with_draws = [](CLI::App* sub, int& draws) {
    sub->add_option("--draws", draws, "simulated runs")->check(CLI::Range(1, 1'000'000));
  };
  with_draws(verbs.ask("promise", "on which day an order will be ready, with its odds",
                       [](const OrderWish& w, shop::Shop& shop) {
                         return shop.promise(w.order, w.draws);
                       }),
             o.draws);
  with_draws(verbs.ask("sooner", "what would make an order ready sooner, at what price",
                       [](const OrderWish& w, shop::Shop& shop) {
                         return shop.sooner(w.order, w.draws_each);
                       }),
             o.draws_each);
}

}  // namespace

void add_order_verbs(Verbs& verbs) {
  verbs.add("orders", "the open orders",
            [](const Common& common, shop::Shop& shop) { return answer(common, shop.orders()); });
  OrderVerbs of_order(verbs);
  add_spec_verbs(of_order);
  add_enquiry_verbs(of_order);
  add_promise_verbs(of_order);
  of_order.add("sheet", "the bench sheet of an order", print_sheet)
      ->add_option("--pdf", of_order.wish().pdf, "write it as a PDF to this file");
  const auto id = std::make_shared<std::string>();
  verbs.add("questions", "what a person has to answer", [id](const Common& common, shop::Shop& shop) {
    return answer(common, shop.questions(*id));
  })->add_option("order", *id, "number of the order; left out: what is open on all");
}

}  // namespace rollwright::cli
