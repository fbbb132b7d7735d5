#include <algorithm>
#include <cstdlib>

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "shop/demo_shop.hpp"
#include "shop/life_desk.hpp"
#include "shop/life_moves.hpp"
#include "shop/spec_versions.hpp"
#include "trade/load_trade.hpp"

// These claims are made on the demo of data/demo, which is invented.
namespace rollwright::shop {
namespace {

using Said = std::map<std::string, std::string>;

const Said kOfferSaid = {{"window", "weeks 3 to 4"}, {"valid_until", "2026-12-20"},
                         {"finds_out", "Mara Hollis"}};
const Said kAgreedSaid = {{"terms_shown", "yes"}, {"mass_confirmed", "yes"}, {"lever_side", "yes"},
                          {"region_class", "yes"}, {"recall_consent", "yes"}};

/// A new order with the parts of a demo order and every question answered.
std::string whole_draft(Shop& shop) {
  const std::string id = like(shop, "2022");
  const OrderView asked = shop.order(id).value();
  for (const QuestionView& question : asked.questions) {
    const AnswerGiven yes{.question = question.id, .answer = "yes",
                          .revision = shop.order(id).value().revision};
    EXPECT_TRUE(shop.answer_question(id, yes, "desk")) << question.id;
  }
  return id;
}

MoveGiven to(LifeDesk& desk, const std::string& id, const char* state, const char* by,
             Said said = {}) {
  return {.to = state, .by = by, .said = std::move(said),
          .revision = desk.look(id).value().revision};
}

std::string offered(Shop& shop) {
  const std::string id = whole_draft(shop);
  LifeDesk desk(shop);
  const auto offer = desk.move(id, to(desk, id, "Offer", "pia", kOfferSaid), "desk");
  EXPECT_TRUE(offer) << offer.error().full();
  return id;
}

std::string agreed_by_moves(Shop& shop) {
  const std::string id = offered(shop);
  LifeDesk desk(shop);
  const LifeView view = desk.look(id).value();
  const auto is_signed = desk.sign(id, {.signed_by = "Test Rider", .by = "pia",
                                        .price_cents = view.price_to_sign_cents,
                                        .revision = view.revision},
                                   "desk");
  EXPECT_TRUE(is_signed) << is_signed.error().full();
  MoveGiven move = to(desk, id, "Agreed", "pia", kAgreedSaid);
  move.promised = parse_day("2027-01-20").value();
  move.deposit_cents = 60000;
  const auto agreed = desk.move(id, move, "desk");
  EXPECT_TRUE(agreed) << agreed.error().full();
  return id;
}

TEST(Life, GoesFromDraftToAgreedByMovesAndKeepsWhatWasSaid) {
  const auto shop = demo();
  const std::string id = agreed_by_moves(*shop);
  const LifeView view = LifeDesk(*shop).look(id).value();
  EXPECT_EQ(view.state, "Agreed");
  EXPECT_EQ(view.signed_version, 1);
  ASSERT_EQ(view.moves.size(), 2u);
  EXPECT_EQ(view.moves[0].to, "Agreed");
  EXPECT_EQ(view.moves[0].by, "Pia Lindqvast");
  EXPECT_EQ(view.moves[0].said.size(), 5u);
  const OrderView order = shop->order(id).value();
  EXPECT_EQ(order.line.promised, parse_day("2027-01-20").value());
  EXPECT_EQ(order.deposit_cents, 60000);
  const auto& promises = shop->kept();
  EXPECT_TRUE(promises) << "the odds of the day are written down as when agreeing at the counter";
  EXPECT_TRUE(shop->verify().value().whole);
}

TEST(Life, RefusesAMoveWithEverythingThatIsMissingAndWritesNothing) {
  const auto shop = demo();
  LifeDesk desk(*shop);
  const std::string id = offered(*shop);
  const std::int64_t entries = shop->verify().value().entries;
  const auto refused = desk.move(id, to(desk, id, "Agreed", "jonas"), "desk");
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().code, Code::kRefused);
  for (const char* piece : {"an adviser is asked to move it, and Jonas Ward is not that",
                            "has not signed", "no deposit is paid", "no day is promised",
                            "consent to keep data for recalls"}) {
    EXPECT_NE(refused.error().sentence.find(piece), std::string::npos)
        << piece << " in: " << refused.error().sentence;
  }
  EXPECT_EQ(shop->verify().value().entries, entries);
  EXPECT_EQ(desk.move(id, to(desk, id, "Agreed", "nobody"), "desk").error().place.field, "by");
  EXPECT_EQ(desk.move(id, to(desk, id, "Nirvana", "pia"), "desk").error().place.field, "to");
  EXPECT_EQ(desk.move(id, to(desk, id, "Agreed", "pia", {{"weather", "fine"}}), "desk")
                .error().place.field,
            "said.weather");
  MoveGiven late = to(desk, id, "Cancelled", "mara", {{"reason", "a"}, {"settlement", "0"}});
  late.revision -= 1;
  EXPECT_EQ(desk.move(id, late, "desk").error().code, Code::kConflict);
}

TEST(Life, DoesNotGatherBeforeEverythingIsBought) {
  const auto shop = demo();
  LifeDesk desk(*shop);
  const std::string id = agreed_by_moves(*shop);
  const auto refused = desk.move(id, to(desk, id, "Gathering", "pia"), "desk");
  ASSERT_FALSE(refused);
  EXPECT_NE(refused.error().sentence.find("not bought yet: "), std::string::npos);
}

TEST(Life, HoldsAndFreesAnOrder) {
  const auto shop = demo();
  LifeDesk desk(*shop);
  const std::string id = offered(*shop);
  const auto held = desk.flag(id, {.flag = "Held", .reason = "rider is ill",
                                   .until = parse_day("2026-12-01").value(), .by = "pia",
                                   .revision = desk.look(id).value().revision},
                              "desk");
  ASSERT_TRUE(held) << held.error().full();
  ASSERT_EQ(held->flags.size(), 1u);
  EXPECT_EQ(held->flags[0].reason, "rider is ill");
  EXPECT_FALSE(held->flags[0].is_due);
  EXPECT_EQ(shop->order(id).value().held_because, "rider is ill");
  const auto refused = shop->agree(id, parse_day("2027-01-20").value(), 0, held->revision, "desk");
  EXPECT_NE(refused.error().sentence.find("it is Held (rider is ill)"), std::string::npos);
  const auto free = desk.flag(id, {.flag = "Held", .set = false, .reason = "well again",
                                   .by = "pia", .revision = held->revision},
                              "desk");
  ASSERT_TRUE(free);
  EXPECT_TRUE(free->flags.empty());
}

TEST(Life, AgreeingAtTheCounterWritesTheSignedVersion) {
  const auto shop = demo();
  const std::string id = whole_draft(*shop);
  const OrderView before = shop->order(id).value();
  ASSERT_TRUE(shop->agree(id, parse_day("2027-01-20").value(), 50000, before.revision, "desk"));
  const LifeView view = LifeDesk(*shop).look(id).value();
  ASSERT_EQ(view.versions.size(), 1u);
  EXPECT_EQ(view.versions[0].signed_by, "Test Rider");
  EXPECT_EQ(view.versions[0].price_cents, before.spec.price_cents);
  EXPECT_TRUE(view.changed_since_signed.empty());
  EXPECT_TRUE(shop->verify().value().whole);
}

/// Another part for the slot with which the bike fits and every fact is known.
std::string other_part(Shop& shop, const std::string& id, const char* slot) {
  const SlotChoicesView view = shop.choices(id, slot).value();
  for (const ChoiceView& choice : view.choices) {
    if (!choice.chosen && choice.status == "open") return choice.part.id;
  }
  return "";
}

TEST(Life, AChangeIsPricedThenMadeThenSignedBeforeTheOrderGoesOn) {
  const auto shop = demo();
  LifeDesk desk(*shop);
  const std::string id = agreed_by_moves(*shop);
  const std::int64_t signed_for = desk.look(id).value().versions[0].price_cents;
  const std::string grips = other_part(*shop, id, "grips");
  ASSERT_NE(grips, "");
  const auto price = desk.price_of_change(id, {{"grips", grips}});
  ASSERT_TRUE(price) << price.error().full();
  EXPECT_EQ(price->point, "F1");
  EXPECT_EQ(price->signed_price_cents, signed_for + price->total_cents);
  ChangeGiven given{.choices = {{"grips", grips}}, .by = "pia",
                    .total_cents = price->total_cents + 1, .revision = price->revision};
  EXPECT_EQ(desk.change(id, given, "desk").error().code, Code::kConflict) << "another price";
  given.total_cents = price->total_cents;
  const auto changed = desk.change(id, given, "desk");
  ASSERT_TRUE(changed) << changed.error().full();
  ASSERT_EQ(changed->changed_since_signed.size(), 1u);
  EXPECT_EQ(changed->flags.at(0).flag, "Change open");
  const auto refused = desk.move(id, to(desk, id, "Gathering", "pia"), "desk");
  ASSERT_FALSE(refused);
  EXPECT_NE(refused.error().sentence.find("not the one that was signed as version 1"),
            std::string::npos) << refused.error().sentence;
  const SignGiven wrong{.signed_by = "Test Rider", .by = "pia", .price_cents = 1,
                        .revision = changed->revision};
  EXPECT_EQ(desk.sign(id, wrong, "desk").error().code, Code::kConflict);
  SignGiven right = wrong;
  right.price_cents = changed->price_to_sign_cents;
  const auto again = desk.sign(id, right, "desk");
  ASSERT_TRUE(again) << again.error().full();
  ASSERT_EQ(again->versions.size(), 2u);
  EXPECT_EQ(again->versions[0].price_cents, signed_for + price->total_cents);
  EXPECT_EQ(again->versions[0].differences.size(), 1u);
  EXPECT_TRUE(again->flags.empty());
  EXPECT_TRUE(shop->verify().value().whole);
}

TEST(Life, AChangeTakenBackNeedsNoSignature) {
  const auto shop = demo();
  LifeDesk desk(*shop);
  const std::string id = agreed_by_moves(*shop);
  std::string before;
  const OrderView held = shop->order(id).value();
  for (const SlotView& slot : held.spec.slots) {
    if (slot.slot == "grips") before = slot.part->id;
  }
  const std::string grips = other_part(*shop, id, "grips");
  const auto price = desk.price_of_change(id, {{"grips", grips}}).value();
  const auto changed = desk.change(id, {.choices = {{"grips", grips}}, .by = "pia",
                                        .total_cents = price.total_cents,
                                        .revision = price.revision},
                                   "desk");
  ASSERT_TRUE(changed);
  const auto back = desk.change(id, {.choices = {{"grips", before}}, .by = "pia",
                                     .total_cents = 0, .revision = changed->revision},
                                "desk");
  ASSERT_TRUE(back) << back.error().full();
  EXPECT_TRUE(back->flags.empty());
  EXPECT_TRUE(back->changed_since_signed.empty());
}

TEST(Life, AChangeOfAnOrderThatWasSignedBeforeVersionsWereKeptIsHeldAgainstWhatWasChosen) {
  const auto shop = demo();
  LifeDesk desk(*shop);
  const std::string id = "2022";
  EXPECT_TRUE(desk.look(id).value().versions.empty());
  const std::string grips = other_part(*shop, id, "grips");
  ASSERT_NE(grips, "");
  const auto price = desk.price_of_change(id, {{"grips", grips}}).value();
  const auto changed = desk.change(id, {.choices = {{"grips", grips}}, .by = "pia",
                                        .total_cents = price.total_cents,
                                        .revision = price.revision},
                                   "desk");
  ASSERT_TRUE(changed) << changed.error().full();
  ASSERT_EQ(changed->versions.size(), 1u);
  EXPECT_EQ(changed->changed_since_signed.size(), 1u);
}

TEST(Life, CancellingPaysBackWhatTheSettlementSaysAndLetsPartsGo) {
  const auto shop = demo();
  LifeDesk desk(*shop);
  const std::string id = "2022";
  const SettlementView settled = desk.settlement(id).value();
  EXPECT_NE(settled.law.find("Consumer law"), std::string::npos);
  std::int64_t sum = 0;
  for (const MoneyLineView& line : settled.lines) sum += line.cents;
  EXPECT_EQ(sum, settled.back_cents);
  EXPECT_FALSE(settled.open_lines.empty());
  const std::string amount = fmt::format("{}{}.{:02}", settled.back_cents < 0 ? "-" : "",
                                         std::abs(settled.back_cents) / 100,
                                         std::abs(settled.back_cents) % 100);
  Said said = {{"reason", "moves abroad"}, {"settlement", amount}};
  const auto open = desk.move(id, to(desk, id, "Cancelled", "mara", said), "desk");
  ASSERT_FALSE(open);
  EXPECT_NE(open.error().sentence.find(settled.open_lines[0].line), std::string::npos);
  said["keep_lines"] = "yes";
  EXPECT_FALSE(desk.move(id, to(desk, id, "Cancelled", "pia", said), "desk")) << "no owner";
  const auto cancelled = desk.move(id, to(desk, id, "Cancelled", "mara", said), "desk");
  ASSERT_TRUE(cancelled) << cancelled.error().full();
  EXPECT_EQ(cancelled->state, "Cancelled");
  EXPECT_GE(cancelled->done.size(), settled.open_lines.size());
  EXPECT_FALSE(shop->arrival(settled.open_lines[0].line).value().order.has_value());
  EXPECT_EQ(desk.settlement(id).error().code, Code::kRefused);
  EXPECT_TRUE(shop->verify().value().whole);
}

/// The demo's files, to be asked of pure functions.
struct DemoFiles {
  trade::LoadedTrade loaded = trade::load_trade(ROLLWRIGHT_ROOT "/data/trade");
  std::shared_ptr<const State> state = make_state(
      trade::read_shop_files(loaded.trade, ROLLWRIGHT_ROOT "/data/demo").files, 1);
  [[nodiscard]] LifeAt at(const char* id) const {
    const trade::Order& order = *state->orders.at(trade::OrderId(id));
    return {.trade = loaded.trade, .state = *state,
            .build = loaded.trade.templates.at(order.build), .order = order,
            .today = parse_day("2026-11-25").value()};
  }
};

TEST(Life, HandingOverTakesWhatIsPutByOffTheShelf) {
  const DemoFiles files;
  int orders = 0;
  for (const trade::Order& order : files.state->held.orders) {
    const MoveDoes does =
        move_does(files.at(order.id.text.c_str()), trade::OrderState::kHandedOver);
    for (const trade::Stock& after : does.stock) {
      const trade::Stock& before = *files.state->stock.at(after.part);
      int held = 0;
      for (const auto& [id, pieces] : before.put_by) held += id == order.id ? pieces : 0;
      EXPECT_GT(held, 0);
      EXPECT_EQ(after.on_shelf, before.on_shelf - held);
      EXPECT_EQ(after.put_by.size() + 1, before.put_by.size());
    }
    orders += does.stock.empty() ? 0 : 1;
  }
  EXPECT_GT(orders, 3);
}

TEST(Life, PeopleHaveTheHatsOfTheirRolesAndSkills) {
  const DemoFiles files;
  const auto person = [&files](const char* id) {
    return **person_called(*files.state, id, "by");
  };
  using build::Hat;
  EXPECT_TRUE(hats_of(person("mara"), true).contains(Hat::kOwner));
  EXPECT_FALSE(hats_of(person("jonas"), true).contains(Hat::kOwner));
  EXPECT_TRUE(hats_of(person("jonas"), true).contains(Hat::kSecondPerson));
  EXPECT_FALSE(hats_of(person("tove"), true).contains(Hat::kSecondPerson)) << "L2";
  EXPECT_FALSE(hats_of(person("pia"), true).contains(Hat::kMechanic)) << "a helper";
  EXPECT_TRUE(hats_of(person("pia"), true).contains(Hat::kPacker)) << "trained for batteries";
  EXPECT_FALSE(hats_of(person("tove"), true).contains(Hat::kPacker));
  EXPECT_TRUE(hats_of(person("tove"), false).contains(Hat::kPacker)) << "no battery in the box";
}

TEST(Life, ShowsEveryDemoOrder) {
  const std::vector<OrderLine> lines = shared_demo().orders().value();
  for (const OrderLine& line : lines) {
    const auto view = LifeDesk(shared_demo()).look(line.id);
    ASSERT_TRUE(view) << line.id << ": " << view.error().full();
    EXPECT_EQ(view->state, line.state);
    EXPECT_FALSE(view->next.empty()) << line.id;
    EXPECT_NE(view->sentence, "") << line.id;
    for (const NextMoveView& move : view->next) {
      EXPECT_FALSE(move.people.empty()) << line.id << " to " << move.to;
    }
    const bool early = line.state == "Enquiry" || line.state == "Draft" || line.state == "Offer";
    for (const FreezeView& part : view->freeze) EXPECT_EQ(part.point == "F0", early) << line.id;
  }
}

}  // namespace
}  // namespace rollwright::shop
