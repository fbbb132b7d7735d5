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
  add_promise_verbs(of_order);
  of_order.add("sheet", "the bench sheet of an order", print_sheet)
      ->add_option("--pdf", of_order.wish().pdf, "write it as a PDF to this file");
  const auto id = std::make_shared<std::string>();
  verbs.add("questions", "what a person has to answer", [id](const Common& common, shop::Shop& shop) {
    return answer(common, shop.questions(*id));
  })->add_option("order", *id, "number of the order; left out: what is open on all");
}

}  // namespace rollwright::cli
