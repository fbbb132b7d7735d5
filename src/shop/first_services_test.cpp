#include "shop/first_services.hpp"

#include <gtest/gtest.h>

// Orders and riders in these tests are invented.
namespace rollwright::shop {
namespace {

using trade::OrderState;

Day day(const char* text) { return parse_day(text).value(); }

class FirstServices : public testing::Test {
 protected:
  void add(const char* id, OrderState state, const char* first_service) {
    trade::Order order{.id = trade::OrderId(id), .state = state};
    order.rider.name = "Test Rider";
    order.rider.contact = "rider@example.invalid";
    files_.orders.push_back(order);
    files_.order_moves.push_back({.order = order.id, .number = 12, .from = OrderState::kHandedOver,
                                  .to = OrderState::kInCare, .by = "pia",
                                  .day = day("2026-10-28"), .said = {}, .note = {}});
    files_.order_moves.back().said["first_service"] = first_service;
  }

  std::vector<std::string> near(const char* today) const {
    const auto state = make_state(files_, 1);
    std::vector<std::string> ids;
    for (const FirstService& each : first_services(*state, day(today))) {
      ids.push_back(each.order->id.text);
    }
    return ids;
  }

  trade::ShopFiles files_;
};

using Ids = std::vector<std::string>;

TEST_F(FirstServices, AreSpokenOfFromTwoWeeksBeforeUntilFourMonthsAfter) {
  add("1", OrderState::kInCare, "2026-12-09");
  EXPECT_EQ(near("2026-11-24"), Ids{});
  EXPECT_EQ(near("2026-11-25"), Ids{"1"});
  EXPECT_EQ(near("2027-04-08"), Ids{"1"});
  EXPECT_EQ(near("2027-04-09"), Ids{});
}

TEST_F(FirstServices, AreThoseOfBikesInCareByDay) {
  add("1", OrderState::kInCare, "2026-12-04");
  add("2", OrderState::kInCare, "2026-12-02");
  add("3", OrderState::kClosed, "2026-12-03");
  EXPECT_EQ(near("2026-11-25"), (Ids{"2", "1"}));
}

TEST_F(FirstServices, SayHowTheRiderIsReached) {
  add("1", OrderState::kInCare, "2026-12-04");
  const auto state = make_state(files_, 1);
  const FirstService service = first_services(*state, day("2026-11-25")).front();
  EXPECT_EQ(sentence_of(service, day("2026-11-25")),
            "1 Test Rider: the first service is set for Friday 4 December. To be reached at "
            "rider@example.invalid.");
  trade::Order unreachable = *service.order;
  unreachable.rider.contact.clear();
  EXPECT_EQ(sentence_of({.order = &unreachable, .day = service.day, .in_care = {}},
                        day("2026-12-05")),
            "1 Test Rider: the first service was set for Friday 4 December. No way to reach the "
            "rider is written down.");
}

}  // namespace
}  // namespace rollwright::shop
