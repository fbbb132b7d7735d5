#include "trade/supplier.hpp"

#include <gtest/gtest.h>

namespace rollwright::trade {
namespace {

TEST(Stock, IsFreeAsFarAsItIsPutByForNobody) {
  EXPECT_EQ(free_pieces({.part = PartId("P"), .on_shelf = 5, .put_by = {}}), 5);
  EXPECT_EQ(free_pieces({.part = PartId("P"), .on_shelf = 5,
                         .put_by = {{OrderId("1"), 2}, {OrderId("2"), 1}}}), 2);
  EXPECT_EQ(free_pieces({.part = PartId("P"), .on_shelf = 1, .put_by = {{OrderId("1"), 2}}}), 0);
}

}  // namespace
}  // namespace rollwright::trade
