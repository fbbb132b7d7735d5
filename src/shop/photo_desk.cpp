#include "shop/photo_desk.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "shop/bench_desk.hpp"
#include "shop/goods_in.hpp"
#include "shop/goods_shelf.hpp"
#include "shop/order_input.hpp"
#include "shop/shop.hpp"

namespace rollwright::shop {

PhotoDesk::PhotoDesk(Shop& shop) : shop_(shop), small_copies_(shop.book_) {}

Result<void> PhotoDesk::is_something(const std::string& about) const {
  const trade::Trade& trade = shop_.trade_;
  const bool known = about.empty() || about == kOfBoxes || about == kOfMaker ||
                     trade::find_operation(trade, about) != nullptr ||
                     std::ranges::count(trade.check_lines, about, &trade::CheckLine::id) > 0;
  if (known) return {};
  return refuse(Code::kNotFound,
                fmt::format("a photograph is about the {}, the {}, an operation or a check line; "
                            "or leave it out",
                            kOfBoxes, kOfMaker),
                {.field = "about", .value = about});
}

Result<Instant> PhotoDesk::moment_of(const std::string& at) const {
  const Instant now = shop_.clock_.now();
  if (at.empty()) return now;
  Result<Instant> moment = parse_instant(at);
  if (!moment) {
    moment.error().place = {.field = "at", .value = at};
    return moment;
  }
  if (*moment > now) {
    return refuse(Code::kOutOfRange, "this lies in the future; set the clock",
                  {.field = "at", .value = at});
  }
  return moment;
}

Result<PhotosView> PhotoDesk::take_of_bike(const std::string& order, std::string bytes,
                                           const BikePhotoGiven& given) {
  if (Result<void> ok = is_something(given.about); !ok) return std::unexpected(ok.error());
  Result<book::Picture> picture = book::picture_of(std::move(bytes));
  if (!picture) return std::unexpected(picture.error());
  DeedGiven deed{.deed = "photo", .about = given.about, .serial = picture->hash,
                 .note = given.note, .at = given.at};
  DeedsGiven deeds{.who = given.who, .key = given.key, .deeds = {std::move(deed)}};
  deeds.pictures.push_back(std::move(*picture));
  const auto written = shop_.bench().write(order, deeds);
  if (!written) return std::unexpected(written.error());
  return of_bike(order);
}

Result<PhotosView> PhotoDesk::of_bike(const std::string& order) {
  const auto found = shop_.order_at(order);
  if (!found) return std::unexpected(found.error());
  const auto lines = shop_.book_.bike_photos(found->order->id);
  if (!lines) return std::unexpected(lines.error());
  PhotosView view;
  for (const trade::BikeLine& line : *lines) {
    view.photos.push_back({.picture = line.serial, .at = iso(line.at),
                           .who = found->state->name_of(line.who), .about = line.about,
                           .note = line.note});
  }
  return view;
}

Result<ArrivalLine> PhotoDesk::take_of_goods(const std::string& line, std::string bytes,
                                             const GoodsPhotoGiven& given,
                                             const std::string& who) {
  const auto state = shop_.state();
  if (!state) return std::unexpected(state.error());
  const auto held = line_called(**state, line);
  if (!held) return std::unexpected(held.error());
  const auto claims = static_cast<int>((*held)->claims.size());
  if (given.claim < 0 || given.claim > claims) {
    return refuse(Code::kNotFound, fmt::format("line {} has {} claims", line, claims),
                  {.field = "claim", .value = std::to_string(given.claim)});
  }
  if (Result<void> ok = one_line("note", given.note, kLongestNote); !ok) {
    return std::unexpected(ok.error());
  }
  const auto at = moment_of(given.at);
  if (!at) return std::unexpected(at.error());
  Result<book::Picture> picture = book::picture_of(std::move(bytes));
  if (!picture) return std::unexpected(picture.error());
  const auto before = shop_.book_.goods_photos(line);
  if (!before) return std::unexpected(before.error());
  const bool is_there = std::ranges::any_of(*before, [&](const book::GoodsPhoto& photo) {
    return photo.claim == given.claim && photo.picture == picture->hash;
  });
  if (is_there) return shop_.arrival(line);
  book::Change change{.who = who, .what = "photograph", .why = "line " + line};
  if (given.claim > 0) change.why += fmt::format(", claim {}", given.claim);
  change.goods_photos = {{.line = line, .claim = given.claim, .picture = picture->hash, .at = *at,
                          .who = who, .note = given.note}};
  change.pictures.push_back(std::move(*picture));
  const std::string about = (*held)->order ? (*held)->order->text : std::string();
  if (Result<void> ok = shop_.write(std::move(change), about); !ok) {
    return std::unexpected(ok.error());
  }
  return shop_.arrival(line);
}

Result<book::Picture> PhotoDesk::picture(const std::string& hash) {
  return shop_.book_.picture(hash);
}

Result<pictures::SmallCopy> PhotoDesk::small_copy(const std::string& hash) {
  return small_copies_.of(hash);
}

}  // namespace rollwright::shop
