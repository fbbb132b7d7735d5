#include "supply/baskets.hpp"

#include <cmath>
#include <map>

#include <gtest/gtest.h>

#include "base/random.hpp"

// All suppliers, prices and lines in these tests are invented.
namespace rollwright::supply {
namespace {

/// Cost in cents of goods, freight, charges and holding, from the words of the header alone.
double plain_cost(const BasketQuestion& question, const std::vector<BoughtLine>& lines) {
  std::map<std::pair<int, int>, double> goods;
  double cost = 0;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const BasketOption& option =
        question.lines[i][static_cast<std::size_t>(lines[i].option)];
    const auto cents = static_cast<double>(option.goods.cents);
    goods[{option.supplier, lines[i].day}] += cents;
    cost += cents + question.holding * cents * (option.latest - lines[i].day);
  }
  for (const auto& [order, sum] : goods) {
    const BasketTerms& terms = question.suppliers[static_cast<std::size_t>(order.first)];
    const auto free_over = static_cast<double>(terms.free_over.cents);
    if (free_over == 0 || sum < free_over) cost += static_cast<double>(terms.freight.cents);
    if (sum < static_cast<double>(terms.minimum.cents)) {
      cost += static_cast<double>(terms.charge.cents);
    }
  }
  return cost;
}

/// Every way to buy every line on every day up to its last.
double least_of_all(const BasketQuestion& question, std::vector<BoughtLine>& lines) {
  if (lines.size() == question.lines.size()) return plain_cost(question, lines);
  double least = 1e300;
  const auto& options = question.lines[lines.size()];
  for (std::size_t k = 0; k < options.size(); ++k) {
    for (int day = 0; day <= options[k].latest; ++day) {
      lines.push_back({static_cast<int>(k), day});
      least = std::min(least, least_of_all(question, lines));
      lines.pop_back();
    }
  }
  return least;
}

BasketQuestion drawn(Random& random) {
  BasketQuestion question{.suppliers = {}, .lines = {}, .holding = 0.002};
  for (int s = 0; s < 2; ++s) {
    const auto cents = [&](int most) { return Money{static_cast<std::int64_t>(random.below(
        static_cast<std::uint64_t>(most)))}; };
    question.suppliers.push_back({.minimum = cents(9000), .charge = cents(1500),
                                  .free_over = cents(30000), .freight = cents(2000)});
  }
  const std::size_t count = 2 + random.below(4);
  for (std::size_t i = 0; i < count; ++i) {
    std::vector<BasketOption> options;
    const auto goods = static_cast<std::int64_t>(500 + random.below(12000));
    for (int s = 0; s < 2; ++s) {
      if (s == 1 && random.below(3) == 0) break;
      options.push_back({.supplier = s, .latest = static_cast<int>(random.below(5)),
                         .goods = {goods + static_cast<std::int64_t>(random.below(900))}});
    }
    question.lines.push_back(options);
  }
  return question;
}

TEST(Baskets, AreTheCheapestOfAllWays) {
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    SCOPED_TRACE(seed);
    Random random(seed);
    const BasketQuestion question = drawn(random);
    const BasketAnswer answer = cheapest_baskets(question);
    std::vector<BoughtLine> lines;
    EXPECT_TRUE(answer.proven);
    EXPECT_NEAR(plain_cost(question, answer.lines), least_of_all(question, lines), 1.0);
    EXPECT_NEAR(static_cast<double>(answer.cost.cents) + answer.holding_cents,
                plain_cost(question, answer.lines), 1e-6);
    for (std::size_t i = 0; i < question.lines.size(); ++i) {
      const auto option = static_cast<std::size_t>(answer.lines[i].option);
      ASSERT_LT(option, question.lines[i].size());
      EXPECT_LE(answer.lines[i].day, question.lines[i][option].latest) << "late";
      EXPECT_GE(answer.lines[i].day, 0);
    }
  }
}

TEST(Baskets, PullALineForwardWhenThatSavesTheFreight) {
  const BasketTerms terms{.free_over = {20000}, .freight = {1500}};
  BasketQuestion question{.suppliers = {terms},
                          .lines = {{{.supplier = 0, .latest = 0, .goods = {15000}}},
                                    {{.supplier = 0, .latest = 8, .goods = {6000}}}},
                          .holding = 0.0006};
  const BasketAnswer together = cheapest_baskets(question);
  EXPECT_EQ(together.lines[1].day, 0);
  EXPECT_EQ(together.cost.cents, 21000);
  EXPECT_EQ(together.when_needed.cents, 24000);
  question.holding = 0.1;  // dear money: a day costs a tenth of the goods
  EXPECT_EQ(cheapest_baskets(question).lines[1].day, 8);
}

TEST(Baskets, BuyALineDearerWhereItSavesAnOrder) {
  BasketQuestion question{.suppliers = {{.freight = {900}}, {.freight = {900}}},
                          .lines = {{{.supplier = 0, .latest = 2, .goods = {5000}}},
                                    {{.supplier = 1, .latest = 2, .goods = {1000}},
                                     {.supplier = 0, .latest = 2, .goods = {1200}}}},
                          .holding = 0};
  const BasketAnswer answer = cheapest_baskets(question);
  EXPECT_EQ(answer.lines[1].option, 1);
  EXPECT_EQ(answer.cost.cents, 7100);
  EXPECT_EQ(answer.when_needed.cents, 7800);
}

TEST(Baskets, OfNothingCostNothing) {
  const BasketAnswer answer = cheapest_baskets({});
  EXPECT_TRUE(answer.proven);
  EXPECT_EQ(answer.cost.cents, 0);
}

}  // namespace
}  // namespace rollwright::supply
