#include "shop/bench_records.hpp"

namespace rollwright::shop {

Result<std::shared_ptr<const BenchRecord>> BenchRecords::of(
    const State& state, const trade::Order& order, const MakeSheet& make_sheet) {
  const auto known = known_.find(order.id.text);
  const bool same_sheet = known && known->catalogue.lock() == state.catalogue &&
                          known->all_else.lock() == state.all_else &&
                          known->revision == order.revision;
  if (!same_sheet) {
    auto sheet = make_sheet();
    if (!sheet) return std::unexpected(sheet.error());
    const auto lines = book_.bike_lines(order.id);
    if (!lines) return std::unexpected(lines.error());
    auto record = std::make_shared<BenchRecord>();
    record->sheet = std::make_shared<const trade::Sheet>(std::move(*sheet));
    record->now = build::bench_state(*record->sheet, *lines);
    keep(state, order, record);
    return record;
  }
  const auto more = book_.bike_lines(order.id, known->record->now.last);
  if (!more) return std::unexpected(more.error());
  if (more->empty()) return known->record;
  auto record = std::make_shared<BenchRecord>(*known->record);
  for (const trade::BikeLine& line : *more) build::play_on(*record->sheet, line, record->now);
  keep(state, order, record);
  return record;
}

void BenchRecords::keep(const State& state, const trade::Order& order,
                        std::shared_ptr<const BenchRecord> record) {
  known_.put(order.id.text, {.catalogue = state.catalogue, .all_else = state.all_else,
                             .revision = order.revision, .record = std::move(record)});
}

}  // namespace rollwright::shop
