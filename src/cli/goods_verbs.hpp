#pragma once

#include <functional>
#include <string>

#include <CLI/CLI.hpp>

#include "shop/goods_views.hpp"
#include "shop/shop.hpp"

/// `arrivals`, `receive`, `goods`, `claim`, `shipped`, `freight`, `confirm`: what comes in; `small-stock`, `used`.
namespace rollwright::cli {

struct GoodsOptions {
  std::string line;
  shop::Received received;
  shop::GoodsStepGiven step;
  shop::ClaimStep claim;
  shop::LegGiven leg;
  std::string day;
  std::string mode;
  std::string part;
  shop::UseGiven use;
};

/// What a verb answers: all arrivals, or the line that changed.
struct GoodsAnswer {
  std::optional<shop::ArrivalsView> all;
  std::optional<shop::ArrivalLine> line;
  std::optional<shop::SmallStockView> stock;
  std::optional<shop::PartView> part;
};
using GoodsVerb = std::function<Result<GoodsAnswer>(shop::Shop&, const std::string& who)>;

/// Declares the verbs; the one that is asked for is handed to `choose`. `options` outlives the app.
void add_goods(CLI::App& app, GoodsOptions& options,
               const std::function<void(GoodsVerb)>& choose);

[[nodiscard]] std::string as_text(const shop::ArrivalsView& view);
[[nodiscard]] std::string as_text(const shop::ArrivalLine& line);
[[nodiscard]] std::string as_text(const shop::SmallStockView& view);

}  // namespace rollwright::cli
