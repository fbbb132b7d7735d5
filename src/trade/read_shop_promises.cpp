#include <map>

#include <fmt/format.h>

#include "trade/shop_reading.hpp"

// What was promised, and how it went: promises.csv.
namespace rollwright::trade {
namespace {

PromiseSaid read_promise(CsvRowReader& row) {
  PromiseSaid promise{.order = OrderId(row.text("order"))};
  const std::optional<Day> said = row.day("said");
  const std::optional<Day> promised = row.day("promised");
  const std::optional<Day> day_50 = row.day("day_50");
  const std::optional<Day> day_90 = row.day("day_90");
  promise.in_100 = row.whole("in_100", 0, 100).value_or(0);
  promise.ready = row.day_or_none("ready");
  const auto before_said = [&](const char* heading, const std::optional<Day>& day) {
    if (said && day && *day < *said) {
      row.problem(heading, Code::kContradiction, "this day lies before the one on which it was said");
    }
  };
  before_said("promised", promised);
  before_said("day_50", day_50);
  before_said("ready", promise.ready);
  if (day_50 && day_90 && *day_90 < *day_50) {
    row.problem("day_90", Code::kContradiction,
                "nine times in ten it takes no less long than five times in ten");
  }
  promise.said = said.value_or(Day{});
  promise.promised = promised.value_or(Day{});
  promise.day_50 = day_50.value_or(Day{});
  promise.day_90 = day_90.value_or(Day{});
  return promise;
}

}  // namespace

void read_promises(ShopReading& reading, const ShopFile& file) {
  std::map<std::pair<OrderId, Day>, int> first;
  read_rows(reading, file, {"order", "said", "promised", "in_100", "day_50", "day_90"}, {"ready"},
            [&](CsvRowReader& row) {
              PromiseSaid promise = read_promise(row);
              if (!row.is_good()) return;
              const auto [before, is_new] =
                  first.emplace(std::pair(promise.order, promise.said), row.line());
              if (!is_new) {
                return row.problem("said", Code::kConflict,
                                   fmt::format("this order was promised on this day already, in "
                                               "line {}",
                                               before->second));
              }
              reading.files.promises.push_back(std::move(promise));
            });
}

}  // namespace rollwright::trade
