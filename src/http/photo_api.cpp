#include "http/photo_api.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "http/answer.hpp"
#include "http/own_name.hpp"
#include "shop/photo_desk.hpp"

namespace rollwright::http {
namespace {

/// Texts of a query, each put where it belongs. Errors: kBadInput for one that is not asked for.
using Wanted = std::vector<std::pair<std::string_view, std::string*>>;
Result<void> read_query(const Request& request, const Wanted& wanted) {
  for (const auto& [name, value] : request.query) {
    const auto into = std::ranges::find(wanted, name, &Wanted::value_type::first);
    if (into == wanted.end()) {
      std::vector<std::string> names;
      for (const auto& [known, text] : wanted) names.emplace_back(known);
      return refuse(Code::kBadInput,
                    fmt::format("this is not asked for here; there are {}", join(names, ", ")),
                    {.field = name, .value = value});
    }
    *into->second = value;
  }
  return {};
}

}  // namespace

Response photos_of_bike(shop::Shop& shop, const Request& request) {
  return answer(shop.photos().of_bike(request.path[2]));
}

Response photograph_bike(shop::Shop& shop, const Request& request) {
  shop::BikePhotoGiven given;
  const auto read = read_query(request, {{"who", &given.who}, {"about", &given.about},
                                         {"note", &given.note}, {"at", &given.at},
                                         {"key", &given.key}});
  if (!read) return refusal(read.error());
  if (const auto own = under_own_name(shop, request, given.who, "who"); !own) {
    return refusal(own.error());
  }
  return answer(shop.photos().take_of_bike(request.path[2], request.body, given), 201);
}

Response photograph_goods(shop::Shop& shop, const Request& request) {
  shop::GoodsPhotoGiven given;
  std::string claim = "0";
  const auto read =
      read_query(request, {{"claim", &claim}, {"note", &given.note}, {"at", &given.at}});
  if (!read) return refusal(read.error());
  constexpr int kMostClaims = 10'000;
  const auto number = to_whole(claim);
  if (!number || *number < 0 || *number > kMostClaims) {
    return refusal({Code::kOutOfRange, "a claim has a number from 1 on; 0 is the delivery itself",
                    {.field = "claim", .value = claim}});
  }
  given.claim = static_cast<int>(*number);
  return answer(
      shop.photos().take_of_goods(request.path[2], request.body, given, request.who), 201);
}

Response picture_of(shop::Shop& shop, const Request& request) {
  Result<book::Picture> picture = shop.photos().picture(request.path[2]);
  if (!picture) return refusal(picture.error());
  return {.type = picture->type,
          .body = std::move(picture->bytes),
          .headers = {{"Content-Disposition", "inline"}}};
}

Response small_picture_of(shop::Shop& shop, const Request& request) {
  const std::string& hash = request.path[2];
  // A browser may keep it, and asks each time whether whoever is there now may still see it.
  Response response{.type = "image/jpeg", .body = {},
                    .headers = {{"Cache-Control", "private, no-cache"},
                                {"ETag", fmt::format("\"{}-{}\"", hash, pictures::kMaking)}}};
  if (request.held == response.headers.at("ETag")) {
    response.status = 304;
    return response;
  }
  Result<pictures::SmallCopy> copy = shop.photos().small_copy(hash);
  if (!copy) return refusal(copy.error());
  response.body = std::move(copy->jpeg);
  return response;
}

bool takes_pictures_apart(const Request& request) {
  return request.path.size() == 4 &&
         ((request.path[1] == "pictures" && request.path[3] == "small") ||
          (request.path[1] == "bikes" && request.path[3] == "history.pdf"));
}

bool takes_picture(std::string_view target) {
  const std::string_view path = target.substr(0, target.find('?'));
  return path.ends_with("/photos") &&
         (path.starts_with("/api/bikes/") || path.starts_with("/api/arrivals/"));
}

}  // namespace rollwright::http
