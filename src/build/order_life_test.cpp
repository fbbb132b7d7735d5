#include "build/order_life.hpp"

#include <algorithm>

#include <gtest/gtest.h>

#include "build/life_table.hpp"
#include "build/trials/life_opinion.hpp"
#include "build/trials/life_trial.hpp"

// The names in these tests are invented.
namespace rollwright::build {
namespace {

using enum trade::OrderState;

LifeFacts ready_to_move(trade::OrderState from, trade::OrderState to, bool maker_built = false) {
  const LifeFacts bike{.state = from, .maker_built = maker_built, .electric = true};
  return testing::facts_in_order(bike, testing::opinion_on(bike, std::string(trade::word_of(to))));
}

std::string refusal_of(const LifeFacts& facts, trade::OrderState to) {
  const Result<void> judged = judge_move(facts, to);
  return judged ? "" : judged.error().sentence;
}

/// These stop nothing.
bool is_for_show(const std::string& spoiler) {
  return spoiler == "Date at risk" || spoiler == "Claim open" || spoiler == "budget written";
}

TEST(OrderLife, AgreesWithTheSecondOpinionOnEveryMoveWithAnythingWrong) {
  const testing::LifeTrial told = testing::try_all_moves();
  EXPECT_GT(told.tried, 200'000);
  for (const std::string& line : told.wrongly_allowed) ADD_FAILURE() << "allowed: " << line;
  for (const std::string& line : told.wrongly_refused) ADD_FAILURE() << "refused: " << line;
}

TEST(OrderLife, UsesEverySpoilerAndEveryStatementSomewhere) {
  for (const testing::Spoiler& spoiler : testing::spoilers()) {
    const bool stops_something =
        std::ranges::any_of(testing::opinion(), [&](const testing::OpinionRow& row) {
          return row.stopped_by.contains(spoiler.name);
        });
    EXPECT_NE(stops_something, is_for_show(spoiler.name)) << spoiler.name;
  }
  for (const Statement& statement : statements()) {
    const bool asked = std::ranges::any_of(life_moves(), [&](const LifeMove& move) {
      return std::ranges::count(move.says, statement.key) > 0 ||
             std::ranges::count(move.may_say, statement.key) > 0;
    });
    EXPECT_TRUE(asked) << statement.key;
  }
}

/// Each thing that must stop an order, alone: it is refused, and the sentence names that thing.
TEST(OrderLife, NamesTheThingThatStopsIt) {
  struct Stop {
    const char* spoiler;
    trade::OrderState from, to;
    const char* words;
    bool maker_built = false;
  };
  const Stop stops[] = {
      {"contact", kEnquiry, kDraft, "name and contact"},
      {"use", kEnquiry, kDraft, "what the bike is for"},
      {"height", kEnquiry, kDraft, "height"},
      {"mass", kOffer, kAgreed, "the rider's mass is not known"},
      {"needed by", kEnquiry, kDraft, "the day needed by"},
      {"budget in words", kEnquiry, kDraft, "a budget as in 2500, or nothing said"},
      {"budget twice", kEnquiry, kDraft, "the order has its budget already"},
      {"slot", kDraft, kOffer, "no fork is chosen"},
      {"misfit", kOffer, kAgreed, "The fork is too long."},
      {"stop unknown", kOffer, kAgreed, "Nobody knows the rotor's limit."},
      {"fit unknown", kGathering, kKitted, "Nobody knows the bore."},
      {"unknown unowned", kDraft, kOffer, "nobody is asked to find out: the bore"},
      {"cost", kDraft, kOffer, "dated cost is on file for: bell"},
      {"offer over", kDraft, kOffer, "November 2026, which is over"},
      {"offer expired", kOffer, kAgreed, "the offer was valid until Tuesday 24 November 2026"},
      {"offer undated", kOffer, kAgreed, "until when the offer is valid"},
      {"unsigned", kOffer, kAgreed, "has not signed"},
      {"changed", kKitted, kBuilding, "signed as version 2 (bell: Ding instead of Dong)"},
      {"no deposit", kOffer, kAgreed, "no deposit"},
      {"deposit too big", kOffer, kAgreed, "more than the price"},
      {"no promise", kOffer, kAgreed, "no day is promised"},
      {"promise past", kOffer, kAgreed, "in the future"},
      {"not bought", kAgreed, kGathering, "not bought yet: rim"},
      {"kit", kGathering, kKitted, "not in hand for the kit: rim"},
      {"no form", kAgreed, kAtMaker, "no order form was sent", true},
      {"old form", kAgreed, kAtMaker, "is of version 1, and version 2 is signed", true},
      {"no list", kAtMaker, kUnderWay, "the maker's list, confirmed or as built", true},
      {"no as-built", kArrived, kFinishing, "as built is missing", true},
      {"difference open", kAtMaker, kUnderWay, "nobody answered: saddle (other part)", true},
      {"difference denied", kChecking, kReady, "not put right by the maker: bell (missing)", true},
      {"other number", kChecking, kReady, "of the maker's list: motor: M2, and M1 in the list", true},
      {"unplanned", kKitted, kBuilding, "no stand and no qualified person"},
      {"work", kBuilding, kChecking, "work not done: A-10"},
      {"work", kFinishing, kChecking, "work not done: A-10", true},
      {"checks", kChecking, kReady, "checks not done: T-10"},
      {"reading missing", kBuilding, kChecking, "readings missing: stem bolts"},
      {"reading outside", kChecking, kReady, "readings outside their limits: stem bolts"},
      {"redo", kChecking, kReady, "to be done again: A-61"},
      {"stop", kReady, kHandedOver, "The stem is cracked."},
      {"value unknown", kChecking, kReady, "values that nobody knows: torque of the stem"},
      {"ride", kChecking, kReady, "test ride"},
      {"arrival line", kArrived, kFinishing, "arrival lines open: A7", true},
      {"final line", kFinishing, kChecking, "final-build lines open: F3", true},
      {"stop line", kChecking, kReady, "STOP lines open: D4"},
      {"talk line", kReady, kHandedOver, "handover lines open: H3"},
      {"own work", kChecking, kReady, "Ada did work on it"},
      {"work unknown", kChecking, kReady, "who did the work"},
      {"serial", kHandedOver, kInCare, "serial number is filed for: frame"},
      {"visit", kInCare, kClosed, "a visit is not over: first service"},
      {"no settlement", kKitted, kCancelled, "settlement is not computed"},
      {"other sum", kKitted, kCancelled, "comes to 119.99, not 120.00"},
      {"line open", kGathering, kCancelled, "P-7 (rim)"},
      {"not done", kChecking, kBuilding, "cannot be done again: T-30"},
      {"Held", kBuilding, kChecking, "it is Held"},
      {"Stop-sale", kBuilding, kChecking, "stop-sale"},
      {"Change open", kBuilding, kChecking, "a change is open"},
      {"Money open", kReady, kHandedOver, "money is open"},
  };
  for (const testing::Spoiler& spoiler : testing::spoilers()) {
    if (is_for_show(spoiler.name)) continue;
    const bool tried = std::ranges::any_of(
        stops, [&](const Stop& stop) { return stop.spoiler == spoiler.name; });
    EXPECT_TRUE(tried) << spoiler.name;
  }
  for (const Stop& stop : stops) {
    LifeFacts facts = ready_to_move(stop.from, stop.to, stop.maker_built);
    EXPECT_EQ(refusal_of(facts, stop.to), "") << stop.spoiler;
    for (const testing::Spoiler& spoiler : testing::spoilers()) {
      if (spoiler.name == stop.spoiler) spoiler.spoil(facts);
    }
    const std::string said = refusal_of(facts, stop.to);
    EXPECT_NE(said.find(stop.words), std::string::npos) << stop.spoiler << ": " << said;
  }
}

TEST(OrderLife, SaysEverythingThatIsMissingInOneSentence) {
  const std::string said = refusal_of({.state = kEnquiry}, kDraft);
  for (const char* piece : {"an adviser is asked", "contact", "what the bike is for", "needed by",
                            "no budget"}) {
    EXPECT_NE(said.find(piece), std::string::npos) << piece << " in: " << said;
  }
  EXPECT_EQ(said.find('\n'), std::string::npos);
}

TEST(OrderLife, TakesTheBudgetFromTheOrderOrFromWhoMovesIt) {
  LifeFacts facts = ready_to_move(kEnquiry, kDraft);
  for (const char* said : {"2500", "2499.50", "nothing said"}) {
    facts.said["budget"] = said;
    EXPECT_EQ(refusal_of(facts, kDraft), "") << said;
  }
  facts.said["budget"] = "0";
  EXPECT_NE(refusal_of(facts, kDraft).find("a budget as in 2500"), std::string::npos);
  facts.said.erase("budget");
  EXPECT_NE(refusal_of(facts, kDraft).find("no budget is written down"), std::string::npos);
  facts.budget_written = true;
  EXPECT_EQ(refusal_of(facts, kDraft), "");
}

TEST(OrderLife, SaysWhereAnOrderGoesWhenAskedForAnotherState) {
  EXPECT_EQ(refusal_of({.state = kDraft}, kBuilding),
            "an order that is Draft does not go to Building: from there it goes to Offer or "
            "Cancelled");
  EXPECT_EQ(refusal_of({.state = kClosed}, kDraft),
            "an order that is Closed does not go to Draft: it stays so");
}

TEST(OrderLife, TakesOpenLinesOfSuppliersAlongWhenTheyAreKept) {
  LifeFacts facts = ready_to_move(kGathering, kCancelled);
  facts.lines_open = {"P-7 (rim)"};
  EXPECT_FALSE(judge_move(facts, kCancelled));
  facts.said["keep_lines"] = "yes";
  EXPECT_TRUE(judge_move(facts, kCancelled));
}

TEST(OrderLife, SignsOffersThatAreWholeAndNotSignedYet) {
  LifeFacts facts = ready_to_move(kOffer, kAgreed);
  facts.signed_version = 0;
  EXPECT_TRUE(missing_to_sign(facts).empty());
  facts.empty_slots = {"fork"};
  facts.does_not_fit = {"The bar is too thick."};
  EXPECT_EQ(missing_to_sign(facts).size(), 2u);
  facts = ready_to_move(kKitted, kBuilding);
  EXPECT_EQ(missing_to_sign(facts).front(), "version 2 is signed, and nothing was changed since");
  facts.changed_since_signed = {"bell: Ding instead of Dong"};
  EXPECT_TRUE(missing_to_sign(facts).empty());
  for (const trade::OrderState state : {kEnquiry, kDraft, kHandedOver, kCancelled}) {
    facts.state = state;
    EXPECT_FALSE(missing_to_sign(facts).empty()) << trade::word_of(state);
  }
}

TEST(OrderLife, ReleasesWorkThatNobodyWroteDownOnceOthersAreNamedForIt) {
  LifeFacts facts = ready_to_move(kChecking, kReady);
  facts.worked_on_it.clear();
  EXPECT_FALSE(judge_move(facts, kReady));
  facts.said["worked_by"] = "Bo and Ada";
  EXPECT_FALSE(judge_move(facts, kReady)) << "Ada signs, and did it herself";
  facts.said["worked_by"] = "Bo";
  EXPECT_TRUE(judge_move(facts, kReady));
}

TEST(OrderLife, OffersWhatIsNotKnownOfAPartOnceSomebodyFindsOut) {
  LifeFacts facts = ready_to_move(kDraft, kOffer);
  facts.not_known_unowned = {"the bore of the hub"};
  EXPECT_FALSE(judge_move(facts, kOffer));
  facts.said["finds_out"] = "Bo";
  EXPECT_TRUE(judge_move(facts, kOffer));
}

TEST(OrderLife, AgreesAtTheCounterOnlyWhatIsWholeAndFits) {
  LifeFacts facts = ready_to_move(kDraft, kOffer);
  EXPECT_TRUE(missing_at_the_counter(facts).empty());
  for (const char* name : {"slot", "misfit", "stop unknown", "mass", "Held", "Stop-sale"}) {
    LifeFacts spoiled = facts;
    for (const testing::Spoiler& spoiler : testing::spoilers()) {
      if (spoiler.name == name) spoiler.spoil(spoiled);
    }
    EXPECT_EQ(missing_at_the_counter(spoiled).size(), 1u) << name;
  }
  facts.state = kBuilding;
  EXPECT_EQ(missing_at_the_counter(facts).front(), "the order is Building, not Draft or Offer");
}

}  // namespace
}  // namespace rollwright::build
