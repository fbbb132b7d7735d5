#include "shop/goods_in.hpp"
#include "shop/goods_lines.hpp"
#include "shop/miscounts.hpp"
#include "shop/shop.hpp"
#include "shop/supply_side.hpp"

// What comes in: looking at it, and writing down what happens to it.
namespace rollwright::shop {
namespace {

/// One line as it stands in a state.
ArrivalLine shown_line(const trade::Trade& trade, const State& state,
                       const trade::PurchaseLine& line, Day today) {
  const std::vector<supply::Cover> covers = covers_of(trade, state, today);
  const auto lead_times = lead_times_of(trade, state);
  return arrival_line({trade, state, *lead_times, covers, today}, line);
}

/// Puts the photographs of a line where they belong: to the delivery or to a claim of it.
void add_photos(const State& state, const std::vector<book::GoodsPhoto>& photos,
                ArrivalLine& line) {
  for (const book::GoodsPhoto& photo : photos) {
    if (photo.line != line.id) continue;
    PhotoView view{.picture = photo.picture, .at = iso(photo.at),
                   .who = state.name_of(trade::PersonId(photo.who)), .about = {},
                   .note = photo.note};
    const auto claim = static_cast<std::size_t>(photo.claim);
    if (claim == 0) line.photos.push_back(std::move(view));
    if (1 <= claim && claim <= line.claims.size()) {
      line.claims[claim - 1].photos.push_back(std::move(view));
    }
  }
}

}  // namespace

Result<ArrivalsView> Shop::arrivals() {
  const auto current = state();
  if (!current) return std::unexpected(current.error());
  const auto time = now(**current);
  if (!time) return std::unexpected(time.error());
  const std::vector<supply::Cover> covers = covers_of(trade_, **current, time->day);
  const auto lead_times = lead_times_of(trade_, **current);
  ArrivalsView view = arrivals_view({trade_, **current, *lead_times, covers, time->day});
  const auto photos = book_.goods_photos({});
  if (!photos) return std::unexpected(photos.error());
  for (auto* lines : {&view.quarantine, &view.claims, &view.lately}) {
    for (ArrivalLine& line : *lines) add_photos(**current, *photos, line);
  }
  for (ArrivalGroup& group : view.groups) {
    for (ArrivalLine& line : group.lines) add_photos(**current, *photos, line);
  }
  return view;
}

Result<ArrivalLine> Shop::arrival(const std::string& line) {
  const auto current = state();
  if (!current) return std::unexpected(current.error());
  const auto time = now(**current);
  if (!time) return std::unexpected(time.error());
  const auto found = line_called(**current, line);
  if (!found) return std::unexpected(found.error());
  ArrivalLine view = shown_line(trade_, **current, **found, time->day);
  const auto photos = book_.goods_photos(line);
  if (!photos) return std::unexpected(photos.error());
  add_photos(**current, *photos, view);
  return view;
}

Result<ArrivalLine> Shop::book_in(const std::string& id, const std::string& what,
                                  const std::string& who, const GoodsChange& change) {
  const auto current = state();
  if (!current) return std::unexpected(current.error());
  const auto time = now(**current);
  if (!time) return std::unexpected(time.error());
  const auto line = line_called(**current, id);
  if (!line) return std::unexpected(line.error());
  Result<BookedIn> booked =
      change(GoodsInAt{.trade = trade_, .state = **current, .today = time->day}, **line);
  if (!booked) return std::unexpected(booked.error());
  book::Change writing{.who = who, .what = what, .why = booked->why, .read_at = (*current)->entry};
  writing.put.purchases = {booked->line};
  if (booked->stock) writing.put.stock = {*booked->stock};
  if (booked->receipt) writing.put.receipts = {*booked->receipt};
  const std::string about = booked->line.order ? booked->line.order->text : std::string();
  if (const Result<void> written = write(std::move(writing), about); !written) {
    return std::unexpected(written.error());
  }
  return arrival(id);
}

Result<ArrivalLine> Shop::receive(const std::string& line, const Received& given,
                                  const std::string& who) {
  return book_in(line, "receive", who, [&given](const auto& at, const auto& held) {
    return received(at, held, given);
  });
}

Result<ArrivalLine> Shop::miscounted(const std::string& id, const MiscountGiven& given,
                                     const std::string& who) {
  const auto current = state();
  if (!current) return std::unexpected(current.error());
  const auto time = now(**current);
  if (!time) return std::unexpected(time.error());
  const auto line = line_called(**current, id);
  if (!line) return std::unexpected(line.error());
  const auto marks = book_.find_marks({.parts = {(*line)->part}, .lot_from = {}, .lot_to = {},
                                       .serial_from = {}, .serial_to = {}});
  if (!marks) return std::unexpected(marks.error());
  Result<Miscounted> corrected =
      shop::miscounted({.trade = trade_, .state = **current, .today = time->day}, **line, given,
                       bound_to_bikes(*marks));
  if (!corrected) return std::unexpected(corrected.error());
  const trade::PurchaseLine& first = corrected->lines.front();
  const std::string about = first.order ? first.order->text : std::string();
  book::Change writing{.who = who, .what = "miscount", .why = corrected->why,
                       .read_at = (*current)->entry};
  writing.put.purchases = std::move(corrected->lines);
  writing.put.stock = std::move(corrected->stock);
  writing.put.receipts = std::move(corrected->receipts);
  writing.take_away.receipts = std::move(corrected->gone);
  if (const Result<void> written = write(std::move(writing), about); !written) {
    return std::unexpected(written.error());
  }
  return arrival(id);
}

Result<ArrivalLine> Shop::goods_step(const std::string& line, const GoodsStepGiven& given,
                                     const std::string& who) {
  return book_in(line, given.step.empty() ? "goods-in" : given.step, who,
                 [&given](const auto& at, const auto& held) { return stepped(at, held, given); });
}

Result<ArrivalLine> Shop::claim_step(const std::string& line, const ClaimStep& given,
                                     const std::string& who) {
  return book_in(line, "claim", who, [&given](const auto& at, const auto& held) {
    return claimed(at, held, given);
  });
}

Result<ArrivalLine> Shop::leg_done(const std::string& line, const LegGiven& given,
                                   const std::string& who) {
  return book_in(line, "leg done", who, [&given](const auto& at, const auto& held) {
    return shop::leg_done(at, held, given);
  });
}

Result<ArrivalLine> Shop::freight_mode(const std::string& line, const std::string& mode,
                                       const std::string& who) {
  return book_in(line, "mode of freight", who, [&mode](const auto& at, const auto& held) {
    return by_mode(at, held, mode);
  });
}

Result<ArrivalLine> Shop::confirm_line(const std::string& line, Day day, const std::string& who) {
  return book_in(line, "confirm", who, [day](const auto& at, const auto& held) {
    return confirmed_for(at, held, day);
  });
}

}  // namespace rollwright::shop
