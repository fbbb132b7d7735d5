#include "shop/questions.hpp"

#include <algorithm>
#include <set>

#include <gtest/gtest.h>

#include "shop/shop.hpp"

// These claims are made on the demo of data/demo, which is invented.
namespace rollwright::shop {
namespace {

const FixedClock kClock(parse_instant("2026-11-25T07:45:00Z").value());

std::unique_ptr<Shop> demo() {
  auto shop = Shop::open({.trade_folder = ROLLWRIGHT_ROOT "/data/trade", .book = ":memory:"},
                         kClock, true);
  if (!shop) {
    ADD_FAILURE() << shop.error().full().substr(0, 600);
    return nullptr;
  }
  const auto report = (*shop)->import(ROLLWRIGHT_ROOT "/data/demo", "owner");
  EXPECT_TRUE(report && report->imported) << (report ? report->problems.front() : "");
  return std::move(*shop);
}

/// A new order with every part of the agreed demo order 2022, asked everything anew.
std::string like_2022(Shop& shop) {
  const OrderView model = shop.order("2022").value();
  NewOrder order{.build = model.build_id};
  order.rider = {.name = "Test Rider", .height_mm = 1700, .inseam_mm = 790, .mass_kg = 74};
  order.need = {.words = "invented", .luggage_kg = 10, .region = "EU", .assist_class = "25 km/h",
                .front_brake_lever = "left"};
  for (const SlotView& slot : model.spec.slots) {
    if (slot.part) order.choices[slot.slot] = slot.part->id;
  }
  return shop.new_order(order, "desk").value().line.id;
}

const QuestionView* question_of(const OrderView& view, const std::string& id) {
  const auto found = std::ranges::find(view.questions, id, &QuestionView::id);
  return found == view.questions.end() ? nullptr : &*found;
}

const FindingView* finding_of(const OrderView& view, const std::string& rule) {
  const auto found = std::ranges::find(view.spec.findings, rule, &FindingView::rule);
  return found == view.spec.findings.end() ? nullptr : &*found;
}

Result<OrderView> say(Shop& shop, const std::string& order, const std::string& question,
                      const std::string& answer) {
  return shop.answer_question(order,
                              {.question = question, .answer = answer, .note = "tried",
                               .revision = shop.order(order).value().revision},
                              "mara");
}

TEST(Questions, ThatAreOpenAreFindingsThatNameTheirOwner) {
  const auto shop = demo();
  ASSERT_NE(shop, nullptr);
  const std::string id = like_2022(*shop);
  const OrderView view = shop->order(id).value();
  const QuestionView* question = question_of(view, "C-172");
  ASSERT_NE(question, nullptr);
  EXPECT_TRUE(question->open);
  EXPECT_EQ(question->owner, "desk");
  EXPECT_FALSE(question->people.empty());
  const FindingView* finding = finding_of(view, "C-172");
  ASSERT_NE(finding, nullptr);
  EXPECT_EQ(finding->verdict, "not known");
  EXPECT_EQ(finding->severity, "STOP");
  EXPECT_NE(finding->sentence.find("the desk is asked"), std::string::npos) << finding->sentence;
  EXPECT_NE(std::ranges::find(finding->slots, "frame"), finding->slots.end());
  EXPECT_NE(view.spec.verdict, "fits");
  EXPECT_EQ(question_of(view, "C-175"), nullptr) << "nobody can tell before the bike stands";
  EXPECT_EQ(question_of(view, "C-160 lock"), nullptr) << "this bike has no steering linkage";
}

TEST(Questions, AnsweredWithYesSettleTheirFindingAndWithNoMakeItNotFit) {
  const auto shop = demo();
  ASSERT_NE(shop, nullptr);
  const std::string id = like_2022(*shop);
  const auto yes = say(*shop, id, "C-172", "yes");
  ASSERT_TRUE(yes) << yes.error().full();
  EXPECT_EQ(finding_of(*yes, "C-172"), nullptr);
  const QuestionView* said = question_of(*yes, "C-172");
  ASSERT_NE(said, nullptr);
  EXPECT_FALSE(said->open);
  EXPECT_EQ(said->answer, "yes");
  EXPECT_EQ(iso(*said->day), "2026-11-25");
  EXPECT_EQ(said->note, "tried");
  EXPECT_FALSE(yes->questions.back().open) << "open questions stand first";

  const auto no = say(*shop, id, "C-172", "no");
  ASSERT_TRUE(no);
  const FindingView* finding = finding_of(*no, "C-172");
  ASSERT_NE(finding, nullptr);
  EXPECT_EQ(finding->verdict, "does not fit");
  EXPECT_EQ(no->spec.verdict, "does not fit");

  const auto later = say(*shop, id, "C-172", "not yet");
  ASSERT_TRUE(later);
  EXPECT_TRUE(question_of(*later, "C-172")->open);
  EXPECT_EQ(finding_of(*later, "C-172")->verdict, "not known");
  EXPECT_TRUE(shop->verify().value().whole);
}

TEST(Questions, OfStopHoldUpTheAgreementUntilTheyAreAnswered) {
  const auto shop = demo();
  ASSERT_NE(shop, nullptr);
  const std::string id = like_2022(*shop);
  const Day day = parse_day("2027-01-20").value();
  const auto refused = shop->agree(id, day, 0, shop->order(id).value().revision, "desk");
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().code, Code::kRefused);
  EXPECT_NE(refused.error().sentence.find("list of recalls"), std::string::npos)
      << refused.error().sentence;
  const OrderView asked = shop->order(id).value();
  for (const QuestionView& question : asked.questions) {
    if (question.severity != "STOP") continue;
    ASSERT_TRUE(say(*shop, id, question.id, "yes")) << question.id;
  }
  const auto agreed = shop->agree(id, day, 0, shop->order(id).value().revision, "desk");
  EXPECT_TRUE(agreed) << agreed.error().sentence;
}

TEST(Questions, AreAskedAgainWhenAPartTheyAreAboutChanges) {
  const auto shop = demo();
  ASSERT_NE(shop, nullptr);
  const std::string id = like_2022(*shop);
  const OrderView before = say(*shop, id, "C-172", "yes").value();
  std::string stem;
  for (const SlotView& slot : before.spec.slots) {
    if (slot.slot == "stem") stem = slot.part->id;
  }
  const OrderView without =
      shop->choose(id, "bell", std::nullopt, before.revision, "desk").value();
  EXPECT_FALSE(question_of(without, "C-172")->open) << "the bell is none of the four parts";
  const OrderView none = shop->choose(id, "stem", std::nullopt, without.revision, "desk").value();
  EXPECT_EQ(question_of(none, "C-172"), nullptr) << "not asked while the stem is open";
  const SlotChoicesView stems = shop->choices(id, "stem").value();
  const auto other = std::ranges::find_if(
      stems.choices, [&](const ChoiceView& choice) { return choice.part.id != stem; });
  ASSERT_NE(other, stems.choices.end());
  const OrderView changed =
      shop->choose(id, "stem", other->part.id, none.revision, "desk").value();
  EXPECT_TRUE(question_of(changed, "C-172")->open);
  EXPECT_NE(question_of(changed, "C-172")->before.find("said yes"), std::string::npos);
  const OrderView back = shop->choose(id, "stem", stem, changed.revision, "desk").value();
  EXPECT_FALSE(question_of(back, "C-172")->open) << "the same parts again: the answer counts";
}

TEST(Questions, RefuseWhatCannotBeSaid) {
  const auto shop = demo();
  ASSERT_NE(shop, nullptr);
  const std::string id = like_2022(*shop);
  const std::int64_t revision = shop->order(id).value().revision;
  const auto code = [&](AnswerGiven given) {
    const auto result = shop->answer_question(id, given, "mara");
    return result ? std::string("taken") : result.error().place.field;
  };
  EXPECT_EQ(code({.question = "C-999", .answer = "yes", .revision = revision}), "question");
  EXPECT_EQ(code({.question = "C-175", .answer = "yes", .revision = revision}), "question");
  EXPECT_EQ(code({.question = "C-172", .answer = "perhaps", .revision = revision}), "answer");
  EXPECT_EQ(code({.question = "C-172", .answer = "yes", .note = "two\nlines",
                  .revision = revision}),
            "note");
  EXPECT_EQ(code({.question = "C-172", .answer = "yes", .revision = revision + 7}), "revision");
  EXPECT_EQ(shop->answer_question("2001", {.question = "C-172", .answer = "yes", .revision = 1},
                                  "mara")
                .error()
                .code,
            Code::kRefused)
      << "handed over";
}

TEST(Questions, OfTheWholeBookAreOnlyThoseThatWait) {
  const auto shop = demo();
  ASSERT_NE(shop, nullptr);
  const std::string id = like_2022(*shop);
  const auto all = shop->questions("");
  ASSERT_TRUE(all);
  const auto mine = std::ranges::find(*all, id, &OrderQuestions::order);
  ASSERT_NE(mine, all->end());
  for (const OrderQuestions& order : *all) {
    EXPECT_FALSE(order.questions.empty()) << order.order;
    for (const QuestionView& question : order.questions) EXPECT_TRUE(question.open);
  }
  EXPECT_EQ(shop->questions(id).value().size(), 1U);
  EXPECT_EQ(shop->questions("none").error().code, Code::kNotFound);
}

TEST(Questions, OfStopAreAnsweredOnDemoOrdersThatAreAgreedOrDone) {
  const auto shop = demo();
  ASSERT_NE(shop, nullptr);
  // Before the agreement and on the stand there is still something to ask.
  const std::set<std::string> early = {"Enquiry",  "Draft",   "Offer",
                                       "Building", "Arrived", "Finishing"};
  const auto all = shop->questions("");
  ASSERT_TRUE(all);
  for (const OrderQuestions& order : *all) {
    if (early.contains(order.state)) continue;
    for (const QuestionView& question : order.questions) {
      EXPECT_NE(question.severity, "STOP") << order.order << ": " << question.id;
    }
  }
}

}  // namespace
}  // namespace rollwright::shop
