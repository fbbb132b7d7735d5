#include "trade/change_terms.hpp"

#include <algorithm>

#include <gtest/gtest.h>

#include "trade/load_trade.hpp"

namespace rollwright::trade {
namespace {

TEST(ChangeTerms, OfTheTradeNameSlotsAndOperationsThatThereAre) {
  const auto terms = load_change_terms(ROLLWRIGHT_ROOT "/data/trade");
  ASSERT_TRUE(terms) << terms.error().full();
  const LoadedTrade loaded = load_trade(ROLLWRIGHT_ROOT "/data/trade");
  EXPECT_EQ(terms->restocking.size(), 3u);
  EXPECT_GT(terms->work.size(), 50u);
  for (const ChangeWork& row : terms->work) {
    EXPECT_NE(find_slot(loaded.trade, row.slot), nullptr) << row.slot.text;
    for (const std::string& id : row.work) {
      const auto found = std::ranges::find(loaded.trade.operations, id, &Operation::id);
      ASSERT_NE(found, loaded.trade.operations.end()) << id;
      EXPECT_NE(found->area, "test area") << id << ": checks follow by themselves";
    }
  }
}

TEST(ChangeTerms, NameTheCellThatIsWrong) {
  struct Wrong {
    const char* csv;
    const char* field;
    Code code;
  };
  for (const Wrong& wrong : {Wrong{"availability,percent,source\nsoon,10,x\n", "availability",
                                   Code::kBadInput},
                             Wrong{"availability,percent,source\nmade,101,x\n", "percent",
                                   Code::kOutOfRange},
                             Wrong{"availability,percent,source\nmade,10,\n", "source",
                                   Code::kBadInput},
                             Wrong{"availability,percent,source\nmade,1,x\nmade,2,x\n",
                                   "availability", Code::kConflict},
                             Wrong{"availability,source\nmade,x\n", "percent", Code::kBadInput}}) {
    const auto read = read_restocking(wrong.csv, "restocking.csv");
    ASSERT_FALSE(read) << wrong.csv;
    EXPECT_EQ(read.error().code, wrong.code) << wrong.csv;
    EXPECT_EQ(read.error().place.field, wrong.field) << wrong.csv;
  }
  for (const Wrong& wrong :
       {Wrong{"slot,work,spoils\n,A-10,\n", "slot", Code::kBadInput},
        Wrong{"slot,work,spoils\nbell,,\n", "work", Code::kBadInput},
        Wrong{"slot,work,spoils\nbell,A-84,A-85\n", "spoils", Code::kBadInput},
        Wrong{"slot,work,spoils\nbell,A-84,\nbell,A-84,\n", "slot", Code::kConflict}}) {
    const auto read = read_change_work(wrong.csv, "change_work.csv");
    ASSERT_FALSE(read) << wrong.csv;
    EXPECT_EQ(read.error().code, wrong.code) << wrong.csv;
    EXPECT_EQ(read.error().place.field, wrong.field) << wrong.csv;
    EXPECT_EQ(read.error().place.line >= 2, true) << wrong.csv;
  }
}

}  // namespace
}  // namespace rollwright::trade
