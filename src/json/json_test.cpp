#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "json/answers.hpp"
#include "json/plan_requests.hpp"
#include "json/requests.hpp"

namespace rollwright::json {
namespace {

TEST(Answers, WriteDaysAsIsoAndWhatIsMissingAsNull) {
  shop::OrderLine line{.id = "2041", .rider = "A \"quoted\" rider"};
  line.promised = parse_day("2026-12-18").value();
  const auto json = nlohmann::json::parse(text_of(std::vector{line}));
  EXPECT_EQ(json[0]["promised"], "2026-12-18");
  EXPECT_TRUE(json[0]["needed_by"].is_null());
  EXPECT_EQ(json[0]["rider"], "A \"quoted\" rider");
}

TEST(Answers, MarkBytesThatAreNoText) {
  const shop::OrderLine line{.id = "\xff"};
  EXPECT_TRUE(nlohmann::json::accept(text_of(std::vector{line})));
}

TEST(Answers, GiveARefusalItsCodeAndPlace) {
  const auto json = nlohmann::json::parse(
      text_of(Error{Code::kNotFound, "there is no order 9", {.field = "order", .value = "9"}}));
  EXPECT_EQ(json["code"], "not found");
  EXPECT_EQ(json["field"], "order");
}

TEST(Requests, ReadAWholeOrder) {
  const auto order = new_order_from(R"({
    "rider": {"name": "R", "contact": "", "height_mm": 1700, "inseam_mm": null, "mass_kg": 71.5},
    "need": {"words": "w", "use_class": 2, "luggage_kg": 12, "child_seat": true, "region": "EU",
             "assist_class": "none", "front_brake_lever": "left", "route": "", "by_freight": false},
    "build": "B2", "needed_by": "2027-02-01", "choices": {"frame": "FR-1"}, "state": "Enquiry",
    "budget": {"nothing_said": true}, "follow_up": {"day": "2026-12-01", "about": "a"}})");
  ASSERT_TRUE(order) << order.error().full();
  EXPECT_EQ(order->rider.mass_kg, 71.5);
  EXPECT_FALSE(order->rider.inseam_mm);
  EXPECT_EQ(order->choices.at("frame"), "FR-1");
  EXPECT_EQ(order->state, "Enquiry");
  EXPECT_EQ(iso(*order->needed_by), "2027-02-01");
  EXPECT_TRUE(order->budget->nothing_said);
  EXPECT_FALSE(order->budget->at_most_cents);
  EXPECT_EQ(iso(*order->follow_up->day), "2026-12-01");
}

TEST(Requests, ReadABudgetAndAFollowUp) {
  const auto budget = budget_from(R"({"at_most_cents": 250000, "revision": 3})");
  ASSERT_TRUE(budget) << budget.error().full();
  EXPECT_EQ(budget->at_most_cents, 250000);
  EXPECT_FALSE(budget->nothing_said);
  const auto done = follow_up_from(R"({"day": null, "about": "spoke", "revision": 3})");
  ASSERT_TRUE(done) << done.error().full();
  EXPECT_FALSE(done->day);
  EXPECT_EQ(budget_from(R"({"at_most_cents": "2500", "revision": 1})").error().place.field,
            "at_most_cents");
  EXPECT_EQ(follow_up_from(R"({"about": "x", "revision": 1})").error().place.field, "day");
}

TEST(Requests, NameTheFieldTheyDoNotLike) {
  const auto field = [](const char* text) { return choose_from(text).error().place.field; };
  EXPECT_EQ(field(R"({"part": 3, "revision": 1})"), "part");
  EXPECT_EQ(field(R"({"part": null})"), "revision");
  EXPECT_EQ(field(R"({"part": null, "revision": 1.5})"), "revision");
  EXPECT_EQ(field(R"({"part": null, "revision": 1, "extra": 0})"), "extra");
  EXPECT_EQ(field(R"({"part": "a\u0000b", "revision": 1})"), "part");
  EXPECT_FALSE(choose_from("[]"));
  EXPECT_FALSE(choose_from("not json"));
  EXPECT_FALSE(choose_from("\xff"));
  EXPECT_EQ(agree_from(R"({"promised": "soon", "deposit_cents": 1, "revision": 1})")
                .error()
                .place.field,
            "promised");
  EXPECT_EQ(new_order_from(R"({"rider": {"name": 5}})").error().place.field, "rider.name");
}

TEST(Requests, ReadSeveralChoicesOfWhichSomeEmptyASlot) {
  const auto read = choose_all_from(R"({"revision": 4, "choices": {"bell": null, "chain": "C"}})");
  ASSERT_TRUE(read) << read.error().full();
  EXPECT_EQ(read->revision, 4);
  EXPECT_EQ(read->choices.at("bell"), std::nullopt);
  EXPECT_EQ(read->choices.at("chain"), "C");
  EXPECT_FALSE(choose_all_from(R"({"revision": 4, "choices": {"bell": 1}})"));
  EXPECT_FALSE(choose_all_from(R"({"revision": 4, "choices": ["bell"]})"));
}

TEST(Requests, SurviveDeepNesting) {
  EXPECT_FALSE(choose_from(std::string(200000, '[')));
}

TEST(PlanRequests, AskForThePlanAnewOrForOneMove) {
  const auto anew = propose_from(R"({"over": 3})");
  ASSERT_TRUE(anew);
  EXPECT_EQ(anew->over, 3);
  EXPECT_TRUE(anew->wish.order.empty());
  const auto move = propose_from(
      R"({"over": 3, "order": "2020", "operation": "A-20", "person": "mara",
          "start": "2026-12-03T10:30", "stand": 2})");
  ASSERT_TRUE(move) << move.error().full();
  EXPECT_EQ(move->wish.stand, 2);
  const auto let_go =
      propose_from(R"({"over": 3, "order": "2020", "operation": "A-20", "unpin": true})");
  ASSERT_TRUE(let_go) << let_go.error().full();
  EXPECT_TRUE(let_go->wish.unpin);
}

TEST(PlanRequests, NameTheFieldTheyDoNotLike) {
  const auto field = [](const char* text) { return propose_from(text).error().place.field; };
  EXPECT_EQ(field("{}"), "over");
  EXPECT_EQ(field(R"({"over": 1, "order": "2020"})"), "operation");
  EXPECT_EQ(field(R"({"over": 1, "order": "2020", "operation": "A-20"})"), "person");
  EXPECT_EQ(field(R"({"over": 1, "order": "2020", "operation": "A-20", "person": "m"})"), "start");
  EXPECT_EQ(field(R"({"over": 1, "later": 2})"), "later");
  EXPECT_EQ(days_away_from(R"({"from": "soon"})").error().place.field, "from");
  EXPECT_EQ(seconds_from(R"({"seconds": "ten"})").error().place.field, "seconds");
  EXPECT_FALSE(nothing_from(R"({"force": true})"));
  EXPECT_TRUE(nothing_from("{}"));
}

TEST(PlanRequests, TakeOneDayAwayForBothEnds) {
  const auto days = days_away_from(R"({"from": "2026-12-03"})");
  ASSERT_TRUE(days);
  EXPECT_EQ(days->first, days->last);
  EXPECT_FALSE(days->is_back);
}

}  // namespace
}  // namespace rollwright::json
