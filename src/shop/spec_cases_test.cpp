#include <unistd.h>

#include <filesystem>
#include <map>
#include <stdexcept>

#include <gtest/gtest.h>

#include "shop/demo_shop.hpp"

// These claims are made on the demo of data/demo, which is invented.
namespace rollwright::shop {
namespace {

const SlotView& slot_of(const OrderView& view, const std::string& slot) {
  for (const SlotView& line : view.spec.slots) {
    if (line.slot == slot) return line;
  }
  throw std::runtime_error("no such slot");
}

/// A whole order of which these slots are still to choose.
std::string without(Shop& shop, const char* model, const std::vector<std::string>& slots) {
  const std::string id = like(shop, model);
  std::map<std::string, std::optional<std::string>> empty;
  for (const std::string& slot : slots) empty[slot] = std::nullopt;
  const OrderView before = shop.order(id).value();
  EXPECT_TRUE(shop.choose_all(id, empty, before.revision, "desk"));
  return id;
}

TEST(ChoosingSeveral, IsOneChangeOrNone) {
  const auto shop = demo();
  const std::string id = like(*shop, "2022");
  const OrderView before = shop->order(id).value();
  const std::int64_t entries = shop->verify().value().entries;
  const auto refused = shop->choose_all(id, {{"bell", std::nullopt}, {"frame", "AC-0001"}},
                                        before.revision, "desk");
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().code, Code::kContradiction);
  EXPECT_EQ(shop->verify().value().entries, entries) << "nothing of it was written";
  EXPECT_EQ(shop->choose_all(id, {}, before.revision, "desk").error().place.field, "choices");
  EXPECT_EQ(shop->choose_all("2022", {{"bell", std::nullopt}}, 1, "desk").error().code,
            Code::kRefused)
      << "a signed specification";

  const auto after = shop->choose_all(id, {{"bell", std::nullopt}, {"kickstand", std::nullopt}},
                                      before.revision, "desk");
  ASSERT_TRUE(after) << after.error().full();
  EXPECT_FALSE(slot_of(*after, "bell").part);
  EXPECT_FALSE(slot_of(*after, "kickstand").part);
  EXPECT_EQ(shop->verify().value().entries, entries + 1);
  EXPECT_EQ(shop->choose_all(id, {{"bell", "AC-0001"}}, before.revision, "b").error().code,
            Code::kConflict);
}

TEST(StateInMemory, FollowsOwnWritesAndThoseOfOthers) {
  const std::string path = std::filesystem::temp_directory_path() /
                           ("rollwright-two-" + std::to_string(::getpid()) + ".book");
  {
    const auto here = demo(path);
    const auto there = open_demo(path, false);
    const std::string id = like(*here, "2022");
    ASSERT_EQ(here->order(id).value().revision, 1);
    ASSERT_EQ(there->order(id).value().revision, 1);
    ASSERT_TRUE(there->choose(id, "bell", std::nullopt, 1, "there"));
    EXPECT_FALSE(slot_of(here->order(id).value(), "bell").part) << "somebody else wrote";
    EXPECT_EQ(here->choose(id, "kickstand", std::nullopt, 1, "here").error().code,
              Code::kConflict);
    const auto written = here->choose(id, "kickstand", std::nullopt, 2, "here");
    ASSERT_TRUE(written) << written.error().full();
    EXPECT_EQ(written->revision, 3);
    EXPECT_FALSE(slot_of(*written, "bell").part);
    const OrderView seen = there->order(id).value();
    EXPECT_EQ(seen.revision, 3);
    EXPECT_FALSE(slot_of(seen, "kickstand").part);
    EXPECT_TRUE(here->verify().value().whole);
  }
  for (const char* end : {"", "-wal", "-shm"}) std::filesystem::remove(path + end);
}

TEST(SpecOfAnOrder, CountsWhatIsOpenInEachSlot) {
  for (const char* id : {"2041", "2022", "2038", "2044"}) {
    const OrderView view = shared_demo().order(id).value();
    const bool signed_already = view.line.state != "Draft" && view.line.state != "Offer" &&
                                view.line.state != "Enquiry";
    EXPECT_EQ(view.spec.status.empty(), signed_already) << id << " " << view.line.state;
    for (const SlotView& slot : view.spec.slots) {
      const auto choices = shared_demo().choices(id, slot.slot);
      ASSERT_TRUE(choices) << id << " " << slot.slot << ": " << choices.error().full();
      int open = 0;
      for (const ChoiceView& choice : choices->choices) {
        open += choice.status != "closed" && choice.status != "not proven";
      }
      EXPECT_LE(slot.open, slot.of) << id << " " << slot.slot;
      EXPECT_LE(slot.open, open) << id << " " << slot.slot;
      EXPECT_LE(slot.of, static_cast<int>(choices->choices.size())) << id << " " << slot.slot;
    }
  }
}

std::map<std::string, std::optional<std::string>> parts_of(const std::vector<FillView>& fills) {
  std::map<std::string, std::optional<std::string>> parts;
  for (const FillView& fill : fills) parts[fill.slot] = fill.part;
  return parts;
}
std::map<std::string, std::optional<std::string>> parts_of(const RepairView& repair) {
  std::map<std::string, std::optional<std::string>> parts;
  for (const ChangeView& change : repair.changes) {
    parts[change.slot] = change.to.empty() ? std::nullopt : std::optional(change.to);
  }
  return parts;
}

TEST(Completion, IsWhatTheOrderComesToOnceItIsTakenOver) {
  const auto shop = demo();
  for (const char* aim : {"cheapest", "lightest", "soonest", "weighted"}) {
    const std::string id = without(*shop, "2022", {"saddle", "grips", "rear_tyre", "kickstand"});
    const OrderView before = shop->order(id).value();
    EXPECT_FALSE(before.spec.missing.empty());
    const auto bike = shop->complete(
        id, {.aim = aim, .cents_per_kg = 3000, .cents_per_day = 500});
    ASSERT_TRUE(bike) << bike.error().full();
    EXPECT_TRUE(bike->proven);
    for (const FillView& fill : bike->fills) {
      EXPECT_FALSE(slot_of(before, fill.slot).part) << fill.slot << " was chosen already";
    }
    const OrderView after =
        shop->choose_all(id, parts_of(bike->fills), before.revision, "desk").value();
    EXPECT_TRUE(after.spec.missing.empty()) << aim;
    EXPECT_EQ(after.spec.price_cents, bike->price_cents) << aim;
    EXPECT_NEAR(after.spec.mass_kg, bike->mass_kg, 1e-9) << aim;
    EXPECT_EQ(after.spec.masses_not_known, bike->masses_not_known) << aim;
    EXPECT_EQ(after.spec.status == "open", bike->verdict == "fits") << aim;
  }
}

TEST(Completion, IsBestInItsAimAndSaysSoOnTheOrder) {
  const auto shop = demo();
  const std::string id = without(*shop, "2022", {"saddle", "grips", "rear_tyre", "front_tyre"});
  const CompletionView cheapest = shop->complete(id, {.aim = "cheapest"}).value();
  const CompletionView lightest = shop->complete(id, {.aim = "lightest"}).value();
  const CompletionView soonest = shop->complete(id, {.aim = "soonest"}).value();
  EXPECT_LE(cheapest.price_cents, lightest.price_cents);
  EXPECT_LE(cheapest.price_cents, soonest.price_cents);
  EXPECT_LE(std::pair(lightest.masses_not_known, lightest.mass_kg),
            std::pair(cheapest.masses_not_known, cheapest.mass_kg));
  ASSERT_TRUE(soonest.ready);
  if (cheapest.ready) {
    EXPECT_LE(soonest.ready, cheapest.ready);
  }
  const SpecView spec = shop->order(id).value().spec;
  EXPECT_EQ(spec.best.price_cents, cheapest.price_cents);
  EXPECT_NEAR(spec.best.mass_kg.value(), lightest.mass_kg, 1e-9);
  EXPECT_EQ(spec.best.ready, soonest.ready);

  const std::vector<CompletionView> between = shop->trade_offs(id).value();
  ASSERT_FALSE(between.empty());
  EXPECT_EQ(between.front().aim, "cheapest");
  EXPECT_EQ(between.front().price_cents, cheapest.price_cents);
  for (const CompletionView& bike : between) EXPECT_GE(bike.price_cents, cheapest.price_cents);

  EXPECT_EQ(shop->complete(id, {.aim = "prettiest"}).error().place.field, "aim");
  EXPECT_EQ(shop->complete(id, {.aim = "weighted", .cents_per_kg = -1}).error().code,
            Code::kOutOfRange);
}

TEST(Differences, AreWhatTheOrderComesToWithThePart) {
  const auto shop = demo();
  const std::string id = without(*shop, "2022", {"grips"});
  int judged = 0;
  for (const char* slot : {"saddle", "grips", "rear_tyre"}) {
    const OrderView before = shop->order(id).value();
    const SlotChoicesView view = shop->choices(id, slot).value();
    std::int64_t revision = before.revision;
    for (const ChoiceView& choice : view.choices) {
      if (choice.chosen) {
        EXPECT_EQ(choice.price_difference_cents, 0);
      }
      if (choice.status == "closed") {
        EXPECT_EQ(choice.price_difference_cents, std::nullopt) << choice.part.id;
      }
      if (!choice.price_difference_cents || judged > 40) continue;
      ++judged;
      const OrderView after = shop->choose(id, slot, choice.part.id, revision, "desk").value();
      revision = after.revision;
      EXPECT_EQ(*after.spec.best.price_cents - *before.spec.best.price_cents,
                *choice.price_difference_cents)
          << slot << " " << choice.part.id;
      if (choice.mass_difference_kg) {
        EXPECT_NEAR(*after.spec.best.mass_kg - *before.spec.best.mass_kg,
                    *choice.mass_difference_kg, 1e-9)
            << slot << " " << choice.part.id;
      }
      EXPECT_EQ(after.spec.status, choice.status) << slot << " " << choice.part.id;
    }
    const auto& held = slot_of(before, slot).part;
    ASSERT_TRUE(shop->choose(id, slot, held ? std::optional(held->id) : std::nullopt, revision,
                             "desk"));
  }
  EXPECT_GT(judged, 10);
}

TEST(Repairs, MendWhatAClosedPartBreaksAndOpenIt) {
  const auto shop = demo();
  const std::string id = like(*shop, "2022");
  EXPECT_TRUE(shop->repairs(id).value().empty()) << "nothing is broken";
  std::string closed;
  const SlotChoicesView hubs = shop->choices(id, "rear_hub").value();
  for (const ChoiceView& choice : hubs.choices) {
    if (choice.status == "closed") closed = choice.part.id;
  }
  ASSERT_FALSE(closed.empty());
  const auto opens = shop->why_not(id, "rear_hub", closed).value().opens;
  const OrderView before = shop->order(id).value();
  const OrderView broken = shop->choose(id, "rear_hub", closed, before.revision, "desk").value();
  EXPECT_EQ(broken.spec.status, "closed");
  const auto repairs = shop->repairs(id);
  ASSERT_TRUE(repairs) << repairs.error().full();
  ASSERT_FALSE(repairs->empty());
  for (const RepairView& repair : *repairs) {
    EXPECT_FALSE(repair.sentence.empty());
    std::int64_t cents = 0;
    for (const ChangeView& change : repair.changes) {
      EXPECT_TRUE(slot_of(broken, change.slot).part) << "only what was chosen is changed";
      cents += change.from == change.to;
    }
    EXPECT_EQ(cents, 0) << "each change is one";
  }
  const OrderView mended =
      shop->choose_all(id, parts_of(repairs->front()), broken.revision, "desk").value();
  EXPECT_NE(mended.spec.status, "closed");
  EXPECT_TRUE(shop->repairs(id).value().empty());
  if (opens.empty()) return;
  auto changes = parts_of(opens.front());
  EXPECT_FALSE(changes.contains("rear_hub"));
  changes["rear_hub"] = closed;
  const std::string other = like(*shop, "2022");
  const OrderView opened =
      shop->choose_all(other, changes, shop->order(other).value().revision, "desk").value();
  EXPECT_NE(opened.spec.status, "closed");
}

TEST(Repairs, AreAdviceForSignedOrdersAndNothingForThoseHandedOver) {
  EXPECT_TRUE(shared_demo().repairs("2022")) << "signed";
  const auto over = shared_demo().repairs("2001");
  ASSERT_FALSE(over);
  EXPECT_EQ(over.error().code, Code::kRefused) << over.error().full();
}

TEST(Notes, SayNothingBesideAnOpenPartAndSomethingBesideEachClosedOne) {
  int closed = 0;
  for (const char* slot : {"rear_hub", "chain", "belt", "battery", "stem"}) {
    const auto view = shared_demo().choices("2022", slot);
    if (!view) continue;  // another build
    for (const ChoiceView& choice : view->choices) {
      if (choice.status == "open") {
        EXPECT_EQ(choice.note, "");
      } else {
        EXPECT_EQ(choice.note.empty(), choice.touches.empty()) << choice.part.id;
      }
      closed += choice.status == "closed" && !choice.note.empty();
    }
  }
  EXPECT_GT(closed, 0);
}

}  // namespace
}  // namespace rollwright::shop
