#include "shop/enquiry.hpp"

#include <algorithm>

#include <gtest/gtest.h>

#include "shop/demo_shop.hpp"
#include "shop/life_desk.hpp"

// Orders and riders in these tests are invented.
namespace rollwright::shop {
namespace {

using trade::OrderState;

Day day(const char* text) { return parse_day(text).value(); }
const Day kToday = day("2026-11-25");

class ToFollowUp : public testing::Test {
 protected:
  trade::Order& add(const char* id, OrderState state, const char* opened) {
    trade::Order order{.id = trade::OrderId(id), .state = state, .opened = day(opened)};
    order.rider = {.name = "Test Rider", .contact = "rider@example.invalid"};
    files_.orders.push_back(order);
    return files_.orders.back();
  }
  std::vector<TodayLine> lines() const { return to_follow_up(*make_state(files_, 1), kToday); }
  std::vector<std::string> orders() const {
    std::vector<std::string> ids;
    for (const TodayLine& line : lines()) ids.push_back(line.order);
    return ids;
  }

  trade::ShopFiles files_;
};

using Ids = std::vector<std::string>;

TEST_F(ToFollowUp, NamesThoseWhoseDayHasComeTheOldestFirst) {
  add("1", OrderState::kOffer, "2026-11-01").follow_up = {day("2026-11-25"), "Pia calls"};
  add("2", OrderState::kEnquiry, "2026-11-01").follow_up = {day("2026-11-20"), "Pia calls"};
  add("3", OrderState::kDraft, "2026-11-01").follow_up = {day("2026-11-26"), "Pia calls"};
  EXPECT_EQ(orders(), (Ids{"2", "1"}));
  EXPECT_EQ(lines()[0].sentence,
            "2 Test Rider (Enquiry) was to be followed up on Friday 20 November: Pia calls. To be "
            "reached at rider@example.invalid.");
  EXPECT_EQ(lines()[1].sentence,
            "1 Test Rider (Offer) is to be followed up today: Pia calls. To be reached at "
            "rider@example.invalid.");
}

TEST_F(ToFollowUp, LeavesOrdersAloneThatAreAgreedOrCancelled) {
  for (const OrderState state : trade::all_states()) {
    add("1", state, "2026-06-01").follow_up = {day("2026-11-20"), "Pia calls"};
    EXPECT_EQ(lines().size(), trade::is_before_agreed(state) ? 1u : 0u) << trade::word_of(state);
    files_.orders.clear();
  }
}

TEST_F(ToFollowUp, NamesEnquiriesOlderThanThirtyDaysForWhichNoDayIsSet) {
  add("1", OrderState::kEnquiry, "2026-10-26");  // thirty days
  EXPECT_EQ(orders(), Ids{});
  add("2", OrderState::kEnquiry, "2026-10-25");
  add("3", OrderState::kEnquiry, "2026-08-27");  // ninety
  add("4", OrderState::kDraft, "2026-06-01");
  add("5", OrderState::kEnquiry, "2026-06-01").follow_up = {day("2026-12-20"), "Pia calls"};
  EXPECT_EQ(orders(), (Ids{"3", "2"}));
  EXPECT_EQ(lines()[1].sentence,
            "2 Test Rider: the enquiry is 31 days old, and no day is set to follow it up. To be "
            "reached at rider@example.invalid.");
  EXPECT_EQ(lines()[0].action, "set a day");
}

TEST_F(ToFollowUp, SaysOfEnquiriesOlderThanNinetyDaysThatTheyAreBetterArchived) {
  add("1", OrderState::kEnquiry, "2026-08-26").rider.contact = "";
  ASSERT_EQ(lines().size(), 1u);
  EXPECT_EQ(lines()[0].sentence,
            "1 Test Rider: the enquiry is 91 days old, and no day is set to follow it up; archive "
            "it by cancelling, or set a day. No way to reach the rider is written down.");
  EXPECT_EQ(lines()[0].action, "archive it");
}

TEST(Budget, IsHeldBesideThePriceAndHidesNoPart) {
  const auto shop = demo();
  const std::string id = like(*shop, "2022");
  const OrderView before = shop->order(id).value();
  EXPECT_FALSE(before.budget.has_value());
  const std::int64_t price = before.line.price_cents;
  const auto within = shop->set_budget(id, {.at_most_cents = price, .revision = before.revision},
                                       "desk");
  ASSERT_TRUE(within) << within.error().full();
  EXPECT_EQ(within->budget->over_cents, 0);
  const auto over = shop->set_budget(
      id, {.at_most_cents = price - 1, .revision = within->revision}, "desk");
  EXPECT_EQ(over->budget->over_cents, 1);
  EXPECT_EQ(over->spec.fitting, before.spec.fitting);
  EXPECT_EQ(shop->choices(id, "grips").value().choices.size(),
            shop->choices("2041", "grips").value().choices.size());
  const auto nothing = shop->set_budget(id, {.nothing_said = true, .revision = over->revision},
                                        "desk");
  EXPECT_FALSE(nothing->budget->at_most_cents || nothing->budget->over_cents);
  const auto out = shop->set_budget(id, {.revision = nothing->revision}, "desk");
  EXPECT_FALSE(out->budget.has_value());
}

TEST(Budget, IsRefusedWithTheFieldThatIsWrong) {
  const auto shop = demo();
  const std::int64_t now = shop->order("2044").value().revision;
  const auto field = [&](const BudgetGiven& given) {
    return shop->set_budget("2044", given, "desk").error().place.field;
  };
  EXPECT_EQ(field({.at_most_cents = 0, .revision = now}), "at_most_cents");
  EXPECT_EQ(field({.at_most_cents = 100'000'001, .revision = now}), "at_most_cents");
  EXPECT_EQ(field({.at_most_cents = 5, .nothing_said = true, .revision = now}), "nothing_said");
  EXPECT_EQ(shop->set_budget("2044", {.nothing_said = true, .revision = now + 7}, "desk").error().code,
            Code::kConflict);
  const std::int64_t agreed = shop->order("2022").value().revision;
  EXPECT_EQ(shop->set_budget("2022", {.nothing_said = true, .revision = agreed}, "desk")
                .error().sentence,
            "order 2022 is Gathering: a budget is written down before it is agreed");
}

TEST(FollowUp, IsSetMovedAndDone) {
  const auto shop = demo();
  const std::string id = shop->new_order(new_order("B1"), "desk").value().line.id;
  const std::int64_t first = shop->order(id).value().revision;
  const auto set = shop->follow_up(
      id, {.day = kToday, .about = " Pia calls about the belt ", .revision = first}, "desk");
  ASSERT_TRUE(set) << set.error().full();
  EXPECT_EQ(set->follow_up->about, "Pia calls about the belt");
  EXPECT_TRUE(set->follow_up->is_due);
  const TodayView today = shop->today().value();
  const auto is_named = [&id](const TodayLine& line) {
    return line.kind == "to follow up" && line.order == id;
  };
  EXPECT_TRUE(std::ranges::any_of(today.lines, is_named));
  const auto moved = shop->follow_up(
      id, {.day = day("2026-12-08"), .about = "again", .revision = set->revision}, "desk");
  EXPECT_FALSE(moved->follow_up->is_due);
  const auto done = shop->follow_up(
      id, {.day = {}, .about = "wants it in spring", .revision = moved->revision}, "desk");
  EXPECT_FALSE(done->follow_up.has_value());
  EXPECT_EQ(shop->follow_up(id, {.revision = done->revision}, "desk").error().code,
            Code::kRefused);
}

TEST(FollowUp, IsRefusedForADayOrWordsThatCannotBe) {
  const auto shop = demo();
  const std::int64_t now = shop->order("2044").value().revision;
  const auto trouble = [&](const char* on, const std::string& about) {
    return shop->follow_up("2044", {.day = day(on), .about = about, .revision = now}, "desk")
        .error().place.field;
  };
  EXPECT_EQ(trouble("2026-11-24", "Pia calls"), "day");
  EXPECT_EQ(trouble("2027-11-27", "Pia calls"), "day");
  EXPECT_EQ(trouble("2026-12-01", "  "), "about");
  EXPECT_EQ(trouble("2026-12-01", "two\nlines"), "about");
  EXPECT_EQ(trouble("2026-12-01", std::string(201, 'x')), "about");
  EXPECT_EQ(shop->follow_up("2022", {.day = kToday, .about = "Pia calls"}, "desk").error().code,
            Code::kRefused);
}

NewOrder whole_enquiry() {
  NewOrder order = new_order("B1");
  order.state = "Enquiry";
  order.rider.contact = "rider@example.invalid";
  order.needed_by = day("2027-03-01");
  return order;
}

MoveGiven to_draft(Shop& shop, const std::string& id, std::map<std::string, std::string> said) {
  return {.to = "Draft", .by = "pia", .said = std::move(said),
          .revision = shop.order(id).value().revision};
}

TEST(Enquiry, BecomesADraftWithTheBudgetThatItHas) {
  const auto shop = demo();
  LifeDesk desk(*shop);
  NewOrder order = whole_enquiry();
  order.budget = BudgetGiven{.at_most_cents = 250000};
  order.follow_up = FollowUpGiven{.day = day("2026-12-01"), .about = "Pia calls"};
  const std::string id = shop->new_order(order, "desk").value().line.id;
  for (const SayView& say : desk.look(id).value().next.front().to_say) EXPECT_NE(say.key, "budget");
  EXPECT_EQ(desk.move(id, to_draft(*shop, id, {{"budget", "3000"}}), "desk").error().place.field,
            "said.budget");
  const auto draft = desk.move(id, to_draft(*shop, id, {}), "desk");
  ASSERT_TRUE(draft) << draft.error().full();
  EXPECT_EQ(draft->moves.front().said.at(0).said, "2500");
  EXPECT_TRUE(shop->order(id).value().follow_up.has_value()) << "a draft is followed up too";
}

TEST(Enquiry, GetsTheBudgetThatIsSaidWithTheMoveToDraft) {
  const auto shop = demo();
  LifeDesk desk(*shop);
  for (const char* said : {"2500", "nothing said"}) {
    const std::string id = shop->new_order(whole_enquiry(), "desk").value().line.id;
    EXPECT_EQ(desk.move(id, to_draft(*shop, id, {}), "desk").error().code, Code::kRefused);
    EXPECT_EQ(desk.move(id, to_draft(*shop, id, {{"budget", "not much"}}), "desk")
                  .error().place.field,
              "said.budget");
    const auto draft = desk.move(id, to_draft(*shop, id, {{"budget", said}}), "desk");
    ASSERT_TRUE(draft) << draft.error().full();
    const auto budget = shop->order(id).value().budget;
    ASSERT_TRUE(budget.has_value());
    EXPECT_EQ(budget->at_most_cents.has_value(), std::string(said) == "2500");
  }
}

TEST(Enquiry, ThatIsCancelledIsNotFollowedUpAnyMore) {
  const auto shop = demo();
  LifeDesk desk(*shop);
  NewOrder order = whole_enquiry();
  order.follow_up = FollowUpGiven{.day = day("2026-12-01"), .about = "Pia calls"};
  const std::string id = shop->new_order(order, "desk").value().line.id;
  const auto cancelled = desk.move(id, {.to = "Cancelled", .by = "mara",
                                        .said = {{"reason", "no answer"}, {"settlement", "0"}},
                                        .revision = shop->order(id).value().revision},
                                   "desk");
  ASSERT_TRUE(cancelled) << cancelled.error().full();
  EXPECT_FALSE(shop->order(id).value().follow_up.has_value());
}

TEST(Enquiry, IsOpenedWithNothingThatIsHalfSaid) {
  const auto shop = demo();
  NewOrder order = whole_enquiry();
  order.follow_up = FollowUpGiven{.about = "Pia calls"};
  EXPECT_EQ(shop->new_order(order, "desk").error().place.field, "follow_up.day");
  order.follow_up = FollowUpGiven{.day = kToday};
  EXPECT_EQ(shop->new_order(order, "desk").error().place.field, "follow_up.about");
  order.follow_up.reset();
  order.budget = BudgetGiven{.at_most_cents = -1};
  EXPECT_EQ(shop->new_order(order, "desk").error().place.field, "budget.at_most_cents");
}

TEST(Enquiry, IsWrittenOverByAnImportAsTheFileSays) {
  const auto shop = demo();
  const auto budget = shop->order("2045").value().budget;
  const auto follow_up = shop->order("2045").value().follow_up;
  ASSERT_TRUE(budget.has_value() && follow_up.has_value());
  const auto changed = shop->set_budget(
      "2045", {.at_most_cents = 100, .revision = shop->order("2045").value().revision}, "desk");
  ASSERT_TRUE(shop->follow_up("2045", {.revision = changed->revision}, "desk"));
  ASSERT_TRUE(shop->import(ROLLWRIGHT_ROOT "/data/demo", "owner").value().imported);
  EXPECT_EQ(shop->order("2045").value().budget->at_most_cents, budget->at_most_cents);
  EXPECT_EQ(shop->order("2045").value().follow_up->about, follow_up->about);
}

}  // namespace
}  // namespace rollwright::shop
