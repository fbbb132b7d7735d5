#include <algorithm>
#include <map>
#include <tuple>

#include <fmt/format.h>

#include "trade/meant.hpp"
#include "trade/shop_reading.hpp"

// How long operations took: times.csv.
namespace rollwright::trade {
namespace {

constexpr int kLongestMinutes = 1440;

std::string operation_named(ShopReading& reading, CsvRowReader& row) {
  std::string id = row.text("operation");
  const std::vector<std::string> known = operation_ids(reading.trade);
  if (!id.empty() && std::ranges::count(known, id) == 0) {
    row.problem("operation", Code::kNotFound, "no operation is called so" + meant(id, known));
  }
  return id;
}

}  // namespace

void read_times(ShopReading& reading, const ShopFile& file) {
  std::map<std::tuple<OrderId, std::string, PersonId, Day>, int> first;
  read_rows(reading, file, {"order", "operation", "person", "day", "minutes"}, {},
            [&](CsvRowReader& row) {
              TimeTaken time{.order = OrderId(row.text("order")),
                             .operation = operation_named(reading, row),
                             .person = PersonId(row.text("person"))};
              time.day = row.day("day").value_or(Day{});
              time.minutes = row.whole("minutes", 1, kLongestMinutes).value_or(0);
              if (!row.is_good()) return;
              const auto [before, is_new] = first.emplace(
                  std::tuple(time.order, time.operation, time.person, time.day), row.line());
              if (!is_new) {
                return row.problem("operation", Code::kConflict,
                                   fmt::format("this work stands in line {} already; add the "
                                               "minutes up",
                                               before->second));
              }
              reading.files.times.push_back(std::move(time));
            });
}

}  // namespace rollwright::trade
