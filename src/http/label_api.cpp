#include "http/label_api.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "http/answer.hpp"

namespace rollwright::http {
namespace {

std::string said(const Request& request, const std::string& name, const std::string& usual = "") {
  const auto found = request.query.find(name);
  return found == request.query.end() ? usual : found->second;
}

std::vector<std::string> listed_in(const Request& request, const std::string& name) {
  std::vector<std::string> pieces = split(said(request, name), ',');
  std::erase(pieces, "");
  return pieces;
}

Result<int> whole_in(const Request& request, const std::string& name) {
  constexpr int kMost = 10'000;
  const std::string text = said(request, name, "1");
  const auto number = to_whole(text);
  if (number && 1 <= *number && *number <= kMost) return static_cast<int>(*number);
  return refuse(Code::kOutOfRange, fmt::format("{} is a whole number from 1 on", name),
                {.field = name, .value = text});
}

Result<shop::LabelWish> wish_in(const Request& request) {
  static const std::vector<std::string> kKnown = {"kinds", "orders", "parts", "people", "tools",
                                                  "sheet", "from",   "rider", "page"};
  for (const auto& [name, value] : request.query) {
    if (std::ranges::count(kKnown, name) > 0) continue;
    return refuse(Code::kBadInput, fmt::format("this is not asked for here; there are {}",
                                               join(kKnown, ", ")),
                  {.field = name, .value = value});
  }
  const Result<int> from = whole_in(request, "from");
  if (!from) return std::unexpected(from.error());
  const std::string rider = said(request, "rider", "no");
  if (rider != "yes" && rider != "no") {
    return refuse(Code::kBadInput, "this is yes or no", {.field = "rider", .value = rider});
  }
  shop::LabelWish wish{.kinds = listed_in(request, "kinds"), .orders = listed_in(request, "orders"),
                       .parts = listed_in(request, "parts"),
                       .people = listed_in(request, "people"),
                       .tools = listed_in(request, "tools")};
  wish.sheet = said(request, "sheet", wish.sheet);
  wish.from = *from;
  wish.rider = rider == "yes";
  return wish;
}

}  // namespace

Response labels(shop::Shop& shop, const Request& request) {
  const auto wish = wish_in(request);
  return wish ? answer(shop.labels(*wish)) : refusal(wish.error());
}

Response labels_pdf(shop::Shop& shop, const Request& request) {
  const auto wish = wish_in(request);
  if (!wish) return refusal(wish.error());
  return pdf_answer(shop.labels_pdf(*wish), "labels");
}

Response labels_svg(shop::Shop& shop, const Request& request) {
  const auto wish = wish_in(request);
  if (!wish) return refusal(wish.error());
  const Result<int> page = whole_in(request, "page");
  if (!page) return refusal(page.error());
  Result<std::string> svg = shop.labels_svg(*wish, *page);
  if (!svg) return refusal(svg.error());
  return {.type = "image/svg+xml", .body = std::move(*svg), .headers = {}};
}

}  // namespace rollwright::http
