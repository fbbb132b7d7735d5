#include "base/text.hpp"
#include "cli/verbs.hpp"
#include "shop/life_desk.hpp"

namespace rollwright::cli {
namespace {

/// What these verbs may ask for.
struct LifeWish {
  std::string order;
  std::string by;
  std::string to;
  std::vector<std::string> said;  // "key=words"
  std::string note;
  std::string promised;
  std::string deposit;
  std::string flag;
  std::string reason;
  std::string until;
  std::string signed_by;
  std::vector<std::string> choices;  // "slot=part"
  bool do_it = false;
};

/// "key=words" each. Errors: kBadInput for one without the sign.
Result<std::map<std::string, std::string>> pairs_of(const std::vector<std::string>& texts,
                                                    const char* field) {
  std::map<std::string, std::string> pairs;
  for (const std::string& text : texts) {
    const std::size_t sign = text.find('=');
    if (sign == std::string::npos) {
      return refuse(Code::kBadInput, "this is written as name=words",
                    {.field = field, .value = text});
    }
    pairs[std::string(trim(text.substr(0, sign)))] = std::string(trim(text.substr(sign + 1)));
  }
  return pairs;
}

Result<std::optional<Day>> day_of(const std::string& text, const char* field) {
  if (text.empty()) return std::optional<Day>();
  const Result<Day> day = parse_day(text);
  if (!day) {
    return refuse(day.error().code, day.error().sentence, {.field = field, .value = text});
  }
  return std::optional<Day>(*day);
}

/// The order's revision as it stands now.
Result<std::int64_t> revision_now(shop::LifeDesk& desk, const std::string& order) {
  const auto view = desk.look(order);
  if (!view) return std::unexpected(view.error());
  return view->revision;
}

Result<shop::LifeView> moved(const LifeWish& wish, const std::string& who, shop::LifeDesk& desk) {
  shop::MoveGiven given{.to = wish.to, .by = wish.by, .note = wish.note};
  const auto said = pairs_of(wish.said, "--say");
  if (!said) return std::unexpected(said.error());
  const auto promised = day_of(wish.promised, "--promised");
  if (!promised) return std::unexpected(promised.error());
  const auto revision = revision_now(desk, wish.order);
  if (!revision) return std::unexpected(revision.error());
  given.said = *said;
  given.promised = *promised;
  given.revision = *revision;
  if (!wish.deposit.empty()) {
    const Result<Money> deposit = parse_money(wish.deposit);
    if (!deposit) {
      return refuse(deposit.error().code, deposit.error().sentence,
                    {.field = "--deposit", .value = wish.deposit});
    }
    given.deposit_cents = deposit->cents;
  }
  return desk.move(wish.order, given, who);
}

Result<shop::LifeView> flagged(const LifeWish& wish, bool set, const std::string& who,
                               shop::LifeDesk& desk) {
  const auto until = day_of(wish.until, "--until");
  if (!until) return std::unexpected(until.error());
  const auto revision = revision_now(desk, wish.order);
  if (!revision) return std::unexpected(revision.error());
  return desk.flag(wish.order,
                   {.flag = wish.flag.empty() ? "Held" : wish.flag, .set = set,
                    .reason = wish.reason, .until = *until, .by = wish.by, .revision = *revision},
                   who);
}

/// For the price as it is now: the verb shows it before it asks for a signature.
Result<shop::LifeView> signed_now(const LifeWish& wish, const std::string& who,
                                  shop::LifeDesk& desk) {
  const auto view = desk.look(wish.order);
  if (!view) return std::unexpected(view.error());
  return desk.sign(wish.order,
                   {.signed_by = wish.signed_by, .by = wish.by,
                    .price_cents = view->price_to_sign_cents, .revision = view->revision},
                   who);
}

/// Shows what a change costs; with --agree it is made.
int change(const LifeWish& wish, const Common& common, shop::Shop& shop) {
  shop::LifeDesk desk(shop);
  const auto pairs = pairs_of(wish.choices, "choice");
  if (!pairs) return fail(common, pairs.error());
  std::map<std::string, std::optional<std::string>> choices;
  for (const auto& [slot, part] : *pairs) {
    choices[slot] = part.empty() ? std::nullopt : std::optional(part);
  }
  const auto price = desk.price_of_change(wish.order, choices);
  if (!price || !wish.do_it) {
    const int code = answer(common, price);
    if (price && !common.json) std::cout << "Nothing is changed; --agree makes the change.\n";
    return code;
  }
  return answer(common, desk.change(wish.order,
                                    {.choices = choices, .by = wish.by,
                                     .total_cents = price->total_cents,
                                     .revision = price->revision},
                                    common.who));
}

class LifeVerbs {
 public:
  explicit LifeVerbs(Verbs& verbs) : verbs_(verbs), wish_(std::make_shared<LifeWish>()) {}

  /// `ask(wish, who, desk)`; the order's number is asked for.
  template <class Ask>
  CLI::App* ask(const char* name, const char* help, Ask ask) {
    auto* sub = verbs_.add(name, help,
                           [wish = wish_, ask](const Common& common, shop::Shop& shop) {
                             shop::LifeDesk desk(shop);
                             return answer(common, ask(*wish, common.who, desk));
                           });
    return with_order(sub);
  }
  CLI::App* change_verb() {
    return with_order(verbs_.add("change-price", "what a change of a signed specification costs",
                                 [wish = wish_](const Common& common, shop::Shop& shop) {
                                   return change(*wish, common, shop);
                                 }));
  }
  void by(CLI::App* sub, bool required = true) {
    sub->add_option("--by", wish_->by, "who of the shop does it")->required(required);
  }
  LifeWish& wish() { return *wish_; }

 private:
  CLI::App* with_order(CLI::App* sub) {
    sub->add_option("order", wish_->order, "number of the order")->required();
    return sub;
  }

  Verbs& verbs_;
  std::shared_ptr<LifeWish> wish_;
};

void add_flag_verbs(LifeVerbs& verbs) {
  LifeWish& w = verbs.wish();
  for (const bool set : {true, false}) {
    auto* sub = verbs.ask(set ? "hold" : "free",
                          set ? "hold an order, or set another flag" : "clear a flag of an order",
                          [set](const LifeWish& wish, const std::string& who,
                                shop::LifeDesk& desk) { return flagged(wish, set, who, desk); });
    sub->add_option("reason", w.reason, "why, in one line")->required();
    sub->add_option("--flag", w.flag, "another flag than Held, as in Stop-sale");
    if (set) sub->add_option("--until", w.until, "day on which it is looked at again");
    verbs.by(sub);
  }
}

}  // namespace

void add_life_verbs(Verbs& all) {
  LifeVerbs verbs(all);
  LifeWish& w = verbs.wish();
  verbs.ask("life", "what is next for an order, and what is missing",
            [](const LifeWish& wish, const std::string&, shop::LifeDesk& desk) {
              return desk.look(wish.order);
            });
  auto* move = verbs.ask("move-to", "move an order on", moved);
  move->add_option("to", w.to, "state, as in Kitted or \"At maker\"")->required();
  move->add_option("--say", w.said, "what goes with the move, as in terms_shown=yes; often");
  move->add_option("--note", w.note, "one line that goes with it");
  move->add_option("--promised", w.promised, "to Agreed: the day promised");
  move->add_option("--deposit", w.deposit, "to Agreed: the deposit paid, as in 512.00");
  verbs.by(move);
  add_flag_verbs(verbs);
  auto* sign = verbs.ask("sign-spec", "write down that the customer signed the specification",
                         signed_now);
  sign->add_option("signed_by", w.signed_by, "the customer's name")->required();
  verbs.by(sign);
  auto* change = verbs.change_verb();
  change->add_option("choice", w.choices, "slot=part, or slot= for none; left out: what is changed "
                                          "and not signed yet");
  change->add_flag("--agree", w.do_it, "make the change; otherwise it is only priced");
  verbs.by(change, false);
  verbs.ask("settle", "what is paid back if an order is cancelled now",
            [](const LifeWish& wish, const std::string&, shop::LifeDesk& desk) {
              return desk.settlement(wish.order);
            });
}

}  // namespace rollwright::cli
