#include <algorithm>
#include <map>

#include <gtest/gtest.h>

#include "base/csv.hpp"
#include "base/text.hpp"
#include "shop/demo_shop.hpp"
#include "shop/bench_desk.hpp"
#include "shop/life_desk.hpp"
#include "shop/maker_desk.hpp"

// The demo's bikes, parts and makers are invented, and so is what the makers say here.
namespace rollwright::shop {
namespace {

constexpr const char* kAtMaker = "2032";
using Rows = std::map<std::string, std::map<std::string, std::string>>;  // by position

/// A whole shop of its own, and a list that can be changed line by line.
class MakerBuilt : public ::testing::Test {
 protected:
  MakerBuilt() : shop(demo()), desk(*shop), life(*shop) {
    const Csv form = parse_csv(desk.form_csv(kAtMaker).value(), "form").value();
    for (const CsvRow& row : form.rows) {
      const auto cell = [&](const char* heading) {
        return row.cells[static_cast<std::size_t>(form.column(heading))];
      };
      order.push_back(cell("position"));
      for (const char* heading : {"part", "article", "quantity", "options"}) {
        rows[order.back()][heading] = cell(heading);
      }
    }
  }

  [[nodiscard]] std::string csv() const {
    std::string text = "position,part,article,quantity,options\n";
    for (const auto& position : order) {
      const auto row = rows.find(position);
      if (row == rows.end()) continue;
      text += position;
      for (const char* heading : {"part", "article", "quantity", "options"}) {
        text += "," + csv_cell(row->second.at(heading));
      }
      text += "\n";
    }
    return text;
  }
  Result<MakerView> take(const char* kind, const std::string& text, const char* who = "pia") {
    return desk.take_list(kAtMaker, {.who = who, .kind = kind, .reference = "invented 1",
                                     .file = "list.csv", .csv = text, .lines = {}});
  }
  void other(const char* position, const char* part) {
    rows[position]["part"] = part;
    rows[position]["article"] = "";
  }
  Result<MakerView> say(const char* answer, std::vector<std::string> differences,
                        const char* signed_by = "", std::int64_t change = 0) {
    const MakerView view = desk.look(kAtMaker).value();
    std::string list;
    for (const MakerListView& each : view.lists) {
      if (each.counts) list = each.kind + " " + std::to_string(each.number);
    }
    return desk.answer(kAtMaker, {.who = "pia", .answer = answer,
                                  .differences = std::move(differences), .why = "told by telephone",
                                  .signed_by = signed_by, .price_change_cents = change,
                                  .list = list, .revision = view.revision});
  }
  [[nodiscard]] DifferenceView difference(const char* key) {
    const MakerView view = desk.look(kAtMaker).value();
    const auto found = std::ranges::find(view.differences, key, &DifferenceView::key);
    return found == view.differences.end() ? DifferenceView{} : *found;
  }
  /// What the life of the order says is in the way of this state.
  [[nodiscard]] std::string missing_for(const char* to) {
    const LifeView view = life.look(kAtMaker).value();
    for (const NextMoveView& next : view.next) {
      if (next.to == to) return join(next.missing, "; ");
    }
    return "no such move";
  }

  std::unique_ptr<Shop> shop;
  MakerDesk desk;
  LifeDesk life;
  Rows rows;
  std::vector<std::string> order;
};

TEST_F(MakerBuilt, MakesTheFormOfEveryLineThatWasSigned) {
  const MakerView view = desk.look(kAtMaker).value();
  const OrderView chosen = shop->order(kAtMaker).value();
  std::size_t parts = 0;
  for (const SlotView& slot : chosen.spec.slots) {
    if (!slot.part) continue;
    ++parts;
    ASSERT_TRUE(rows.contains(slot.slot)) << slot.slot;
    EXPECT_EQ(rows[slot.slot]["part"], slot.part->id);
    EXPECT_EQ(rows[slot.slot]["quantity"], std::to_string(slot.quantity));
  }
  EXPECT_EQ(view.form.lines.size(), parts + 3) << "and how the bike is set up";
  EXPECT_EQ(rows["front_brake_lever"]["options"], "left");
  EXPECT_EQ(rows["frame"]["options"], "size: L");
  EXPECT_EQ(rows["frame"]["article"], "F69958") << "the maker's own number";
  EXPECT_TRUE(view.form_missing.empty());
  EXPECT_FALSE(view.form.lines.front().stop_rules.empty());
  EXPECT_TRUE(view.form.lines.front().has_number);
  EXPECT_TRUE(std::ranges::any_of(view.papers, [](const std::string& paper) {
    return paper.starts_with("battery");
  }));
}

TEST_F(MakerBuilt, SendsAFormOnlyByTheDeskForADayThatCanBe) {
  const auto send = [&](const char* order, const char* who, const char* day) {
    return desk.send_form(order, {.who = who, .wanted = parse_day(day).value(), .how = "mail"});
  };
  EXPECT_EQ(send(kAtMaker, "jonas", "2027-01-20").error().code, Code::kNotAllowed);
  EXPECT_EQ(send(kAtMaker, "nobody", "2027-01-20").error().code, Code::kNotFound);
  EXPECT_EQ(send(kAtMaker, "", "2027-01-20").error().code, Code::kBadInput);
  EXPECT_EQ(send(kAtMaker, "pia", "2026-11-25").error().code, Code::kOutOfRange);
  EXPECT_EQ(send(kAtMaker, "pia", "2027-02-12").error().code, Code::kContradiction);
  EXPECT_EQ(send("2016", "pia", "2027-01-20").error().code, Code::kRefused) << "is built here";
  EXPECT_EQ(send("9999", "pia", "2027-01-20").error().code, Code::kNotFound);
  EXPECT_EQ(desk.look(kAtMaker).value().form.number, 0);
  const auto sent = send(kAtMaker, "pia", "2027-01-20");
  ASSERT_TRUE(sent) << sent.error().full();
  EXPECT_EQ(sent->form.number, 1);
  EXPECT_EQ(sent->form.version, sent->signed_version);
  EXPECT_TRUE(sent->form_is_current);
  EXPECT_EQ(send(kAtMaker, "pia", "2027-01-21")->form.number, 2) << "a newer one is sent anew";
  EXPECT_TRUE(shop->verify().value().whole);
}

TEST_F(MakerBuilt, LetsTheBikeLeaveTheMakerOnceEveryLineIsAsItWasSigned) {
  EXPECT_NE(missing_for("Under way").find("the maker's list"), std::string::npos);
  ASSERT_TRUE(take("confirmed", csv()));
  EXPECT_EQ(missing_for("Under way"), "");
  EXPECT_TRUE(desk.look(kAtMaker).value().differences.empty());
}

TEST_F(MakerBuilt, NamesTheLineThatNobodyAnswered) {
  other("saddle", "SA-0002");
  ASSERT_TRUE(take("as built", csv()));
  EXPECT_NE(missing_for("Under way").find("nobody answered: saddle: Saddle, city, gel, 195 mm"),
            std::string::npos)
      << missing_for("Under way");
  EXPECT_EQ(difference("saddle").standing, "open");
}

TEST_F(MakerBuilt, ReplacesAListByANewerOneOfItsKind) {
  other("saddle", "SA-0002");
  ASSERT_TRUE(take("as built", csv()));
  other("saddle", "SA-0001");
  const auto view = take("as built", csv());
  ASSERT_TRUE(view);
  EXPECT_TRUE(view->differences.empty());
  ASSERT_EQ(view->lists.size(), 2U);
  EXPECT_TRUE(view->lists[0].counts);
  EXPECT_EQ(view->lists[0].number, 2);
  EXPECT_EQ(missing_for("Under way"), "");
}

TEST_F(MakerBuilt, RefusesABadListAndKeepsNothingOfIt) {
  rows["saddle"]["part"] = "SA-9999";
  rows["bell"]["quantity"] = "none";
  const auto refused = take("as built", csv());
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().place.file, "list.csv");
  EXPECT_EQ(refused.error().place.field, "part");
  EXPECT_EQ(refused.error().place.value, "SA-9999");
  EXPECT_NE(refused.error().sentence.find("field quantity"), std::string::npos)
      << refused.error().sentence;
  EXPECT_TRUE(desk.look(kAtMaker).value().lists.empty());
  EXPECT_EQ(take("as it was", "position,quantity\n").error().place.field, "kind");
  EXPECT_EQ(take("confirmed", csv(), "jonas").error().code, Code::kNotAllowed);
}

TEST_F(MakerBuilt, AcceptsAnotherPartAsAVersionThatTheCustomerSigns) {
  const std::int64_t price = life.look(kAtMaker).value().price_to_sign_cents;
  other("saddle", "SA-0002");
  ASSERT_TRUE(take("confirmed", csv()));
  const DifferenceView seen = difference("saddle");
  EXPECT_TRUE(seen.stops.empty());
  EXPECT_TRUE(seen.is_new_version);
  EXPECT_EQ(seen.list_price_change_cents, -400);
  EXPECT_NEAR(seen.mass_change_kg.value(), 0.152, 1e-9);
  ASSERT_TRUE(say("accepted", {"saddle"}, "", -1000));
  EXPECT_EQ(difference("saddle").standing, "accepted");
  const LifeView changed = life.look(kAtMaker).value();
  EXPECT_EQ(changed.changed_since_signed.size(), 1U);
  EXPECT_EQ(changed.price_to_sign_cents, price - 1000) << "what was agreed, not what parts cost";
  EXPECT_NE(missing_for("Under way"), "") << "not before it is signed";
  const auto wanted = life.price_of_change(kAtMaker, {});
  ASSERT_TRUE(wanted) << wanted.error().full();
  EXPECT_EQ(wanted->total_cents, -1000);
  const auto signed_now = life.sign(kAtMaker, {.signed_by = "Kasimir Selwyn", .by = "pia",
                                               .price_cents = price - 1000,
                                               .revision = changed.revision},
                                    "pia");
  ASSERT_TRUE(signed_now) << signed_now.error().full();
  EXPECT_EQ(signed_now->versions.front().price_cents, price - 1000);
  EXPECT_TRUE(desk.look(kAtMaker).value().differences.empty()) << "as it is signed now";
  EXPECT_EQ(desk.look(kAtMaker).value().answers.size(), 1U) << "what was said stays";
  EXPECT_EQ(missing_for("Under way"), "");
  EXPECT_TRUE(shop->verify().value().whole);
  const HistoryView history = shop->bench().history(kAtMaker).value();
  const auto told = std::ranges::find(history.journal, "answer-difference", &HistoryEntry::what);
  ASSERT_NE(told, history.journal.end()) << "the bike's record says what was accepted";
  EXPECT_EQ(told->why, "accepted: saddle: told by telephone");
  EXPECT_EQ(told->who, "Pia Lindqvast");
}

TEST_F(MakerBuilt, AcceptsNothingThatAStopRuleForbids) {
  other("front_tyre", "TY-0016");
  ASSERT_TRUE(take("as built", csv()));
  ASSERT_FALSE(difference("front_tyre").stops.empty());
  const auto refused = say("accepted", {"front_tyre"}, "Kasimir Selwyn");
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().code, Code::kRefused);
  EXPECT_NE(refused.error().sentence.find("STOP"), std::string::npos) << refused.error().sentence;
  EXPECT_EQ(difference("front_tyre").standing, "open");
  EXPECT_EQ(shop->order(kAtMaker).value().revision, desk.look(kAtMaker).value().revision);
}

TEST_F(MakerBuilt, AcceptsNeitherUnknownPartsNorSettingsNorWhatTheBikeNeeds) {
  other("bell", "");
  rows["bell"]["article"] = "K 9";
  rows["front_brake_lever"]["options"] = "right";
  rows["frame"]["options"] = "size: S";
  rows.erase("saddle");
  ASSERT_TRUE(take("as built", csv()));
  for (const char* key : {"bell", "front_brake_lever", "frame", "saddle"}) {
    EXPECT_FALSE(difference(key).stops.empty()) << key;
    EXPECT_EQ(say("accepted", {key}, "Kasimir Selwyn").error().code, Code::kRefused) << key;
  }
}

TEST_F(MakerBuilt, WantsANameWhereNothingIsSigned) {
  rows["reflectors"]["quantity"] = "2";
  rows["frame"]["options"] = "size: L; colour: red";
  ASSERT_TRUE(take("as built", csv()));
  EXPECT_EQ(difference("frame").what, "other option");
  EXPECT_EQ(say("accepted", {"reflectors", "frame"}).error().place.field, "signed_by");
  EXPECT_EQ(say("accepted", {"reflectors", "frame"}, "Kasimir Selwyn", 100).error().code,
            Code::kContradiction);
  ASSERT_TRUE(say("accepted", {"reflectors", "frame"}, "Kasimir Selwyn"));
  EXPECT_EQ(difference("frame").standing, "accepted");
  EXPECT_EQ(missing_for("Under way"), "") << "nothing has to be signed for it";
}

TEST_F(MakerBuilt, LeavesOutAPartThatTheBikeDoesNotNeed) {
  rows.erase("kickstand");
  ASSERT_TRUE(take("as built", csv()));
  ASSERT_TRUE(say("accepted", {"kickstand"}));
  const OrderView order = shop->order(kAtMaker).value();
  EXPECT_TRUE(std::ranges::none_of(order.spec.slots, [](const SlotView& slot) {
    return slot.slot == "kickstand" && slot.part;
  }));
  // Choosing it back takes the acceptance away: the bike is not meant so any more.
  const auto back = life.change(kAtMaker, {.choices = {{"kickstand", "KS-0001"}}, .by = "pia",
                                           .total_cents = 0, .revision = order.revision},
                                "pia");
  ASSERT_TRUE(back) << back.error().full();
  EXPECT_EQ(difference("kickstand").standing, "open");
}

TEST_F(MakerBuilt, DeniesToTheMakerAndHoldsTheReleaseNotTheRoad) {
  other("saddle", "SA-0002");
  ASSERT_TRUE(take("as built", csv()));
  ASSERT_TRUE(say("denied", {"saddle"}));
  EXPECT_EQ(difference("saddle").standing, "denied");
  EXPECT_EQ(missing_for("Under way"), "") << "it was answered";
  const LifeView view = life.look(kAtMaker).value();
  EXPECT_TRUE(std::ranges::any_of(view.flags, [](const FlagView& flag) {
    return flag.flag == "Claim open" && flag.reason.find("saddle") != std::string::npos;
  }));
  // Denied again in a newer list as long as it is so; the newest answer counts.
  ASSERT_TRUE(take("as built", csv()));
  EXPECT_EQ(difference("saddle").standing, "denied");
  ASSERT_TRUE(say("accepted", {"saddle"}));
  EXPECT_EQ(difference("saddle").standing, "accepted");
}

TEST_F(MakerBuilt, RefusesAnswersThatAreNone) {
  other("saddle", "SA-0002");
  EXPECT_EQ(say("accepted", {"saddle"}).error().code, Code::kConflict) << "no list yet";
  ASSERT_TRUE(take("as built", csv()));
  EXPECT_EQ(say("maybe", {"saddle"}).error().place.field, "answer");
  EXPECT_EQ(say("accepted", {}).error().place.field, "differences");
  EXPECT_EQ(say("accepted", {"bell"}).error().code, Code::kNotFound) << "is as ordered";
  EXPECT_EQ(say("denied", {"saddle"}, "", 100).error().place.field, "price_change_cents");
  const MakerView view = desk.look(kAtMaker).value();
  DifferenceGiven given{.who = "pia", .answer = "denied", .differences = {"saddle"}, .why = " ",
                        .list = "as built 1", .revision = view.revision};
  EXPECT_EQ(desk.answer(kAtMaker, given).error().place.field, "why");
  given.why = "told";
  given.list = "confirmed 1";
  EXPECT_EQ(desk.answer(kAtMaker, given).error().code, Code::kConflict);
  given.list = "as built 1";
  given.who = "jonas";
  EXPECT_EQ(desk.answer(kAtMaker, given).error().code, Code::kNotAllowed);
  given.who = "pia";
  given.revision = view.revision - 1;
  EXPECT_EQ(desk.answer(kAtMaker, given).error().code, Code::kConflict);
  given.revision = view.revision;
  EXPECT_TRUE(desk.answer(kAtMaker, given));
}

TEST_F(MakerBuilt, SaysWhatComesNextOfFormListAndDifferences) {
  const auto says = [&] { return desk.look(kAtMaker).value().sentence; };
  EXPECT_EQ(says(), "The order form can go to the maker.");
  other("saddle", "SA-0002");
  rows.erase("kickstand");
  ASSERT_TRUE(take("confirmed", csv()));
  EXPECT_EQ(says(), "2 lines differ in the list, confirmed 1: 2 open, 0 accepted, 0 denied. What "
                    "comes next: 2 open lines are answered.")
      << "though no form is written down as sent";
  ASSERT_TRUE(say("denied", {"saddle"}));
  EXPECT_EQ(says(), "2 lines differ in the list, confirmed 1: 1 open, 0 accepted, 1 denied. What "
                    "comes next: 1 open line is answered.");
  ASSERT_TRUE(say("denied", {"kickstand"}));
  EXPECT_TRUE(says().ends_with("the maker puts right what was denied, and a new list says so."))
      << says();
  ASSERT_TRUE(say("accepted", {"saddle"}, "", -1000));
  EXPECT_TRUE(says().ends_with("the customer signs the specification with what was accepted."))
      << says();
}

TEST_F(MakerBuilt, SaysThatTheListIsWaitedForOnceTheFormIsSent) {
  const auto says = [&] { return desk.look(kAtMaker).value().sentence; };
  ASSERT_TRUE(desk.send_form(kAtMaker, {.who = "pia", .wanted = parse_day("2027-01-20").value(),
                                        .how = "mail"}));
  EXPECT_EQ(says(), "The form is with the maker; what comes next is a list of the maker.");
  ASSERT_TRUE(take("confirmed", csv()));
  EXPECT_EQ(says(), "Every line of the list, confirmed 1, is as it was signed. What comes next: "
                    "the list of the bike as it was built.");
  ASSERT_TRUE(take("as built", csv()));
  EXPECT_EQ(says(), "Every line of the list, as built 1, is as it was signed. Nothing is open.");
}

TEST_F(MakerBuilt, SaysThatNoFormWasSentOnlyOnceNothingElseIsOpen) {
  ASSERT_TRUE(take("as built", csv()));
  EXPECT_EQ(desk.look(kAtMaker).value().sentence,
            "Every line of the list, as built 1, is as it was signed. No order form is written down "
            "as sent.");
}

TEST_F(MakerBuilt, PrintsTheFormOnBothPapersTheSameEachTime) {
  const std::string a4 = desk.form_pdf(kAtMaker, false).value();
  EXPECT_TRUE(a4.starts_with("%PDF"));
  EXPECT_EQ(a4, desk.form_pdf(kAtMaker, false).value());
  EXPECT_NE(a4, desk.form_pdf(kAtMaker, true).value());
}

}  // namespace
}  // namespace rollwright::shop
