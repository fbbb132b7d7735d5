#include <cstdio>

#include <gtest/gtest.h>

#include "shop/bench_desk.hpp"
#include "shop/demo_shop.hpp"
#include "shop/life_desk.hpp"

// On the demo of data/demo, which is invented.
namespace rollwright::shop {
namespace {

TEST(Life, SendingABikeBackOpensWhatIsNamedAndKeepsWhatIsDoneOffItsSheet) {
  const std::string path = testing::TempDir() + "rollwright_life_back.book";
  for (const char* end : {"", "-wal", "-shm"}) std::remove((path + end).c_str());
  {
    const auto shop = demo(path);
    const trade::OrderId id("2012");  // built here, being checked
    constexpr const char* kOffTheSheet = "N-55";  // of bikes that a maker built
    book::Book book = book::Book::open(path, false).value();
    trade::Order order = book.read_order(id).value();
    order.done.insert(kOffTheSheet);
    ASSERT_TRUE(book.write({.who = "import", .what = "import", .put = {.orders = {order}}}));
    LifeDesk desk(*shop);
    const MoveGiven wanted{.to = "Building", .by = "mara",
                           .said = {{"operations", "A-61"}, {"why_back", "lever comes to the bar"}},
                           .revision = desk.look(id.text).value().revision};
    const auto back = desk.move(id.text, wanted, "desk");
    ASSERT_TRUE(back) << back.error().full();
    const std::set<std::string> done = book.read_order(id).value().done;
    EXPECT_TRUE(done.contains(kOffTheSheet));
    EXPECT_FALSE(done.contains("A-61"));
    EXPECT_TRUE(done.contains("A-60"));
    EXPECT_EQ(shop->bench().history(id.text).value().lines.back().deed, "redo");
  }
  for (const char* end : {"", "-wal", "-shm"}) std::remove((path + end).c_str());
}

}  // namespace
}  // namespace rollwright::shop
