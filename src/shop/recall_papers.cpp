#include <fmt/format.h>

#include "base/text.hpp"
#include "documents/recall_list_pdf.hpp"
#include "shop/bench_papers.hpp"
#include "shop/recall_at.hpp"
#include "shop/shop.hpp"

// The list of a recall on paper and as CSV.
namespace rollwright::shop {
namespace {

std::string step_text(const RecallStepView& step) {
  std::vector<std::string> pieces = {fmt::format("{} on {} by {}", step.status,
                                                 in_words(step.day, true), step.who),
                                     step.channel, step.note};
  std::erase(pieces, "");
  return join(pieces, ", ");
}

documents::RecallList::Bike bike_on_list(const RecalledBike& bike) {
  std::string certainty = bike.certainty;
  if (!bike.bound && !bike.part.empty()) certainty += ", not in its record";
  return {.rider = bike.rider, .contact = bike.contact,
          .bike = fmt::format("{}, {}{}", bike.order, bike.state,
                              bike.stop_sale ? ", Stop-sale" : ""),
          .part = bike.place.empty() ? bike.name : bike.place + ": " + bike.name,
          .marks = marks_text(bike.serial, bike.lot), .certainty = std::move(certainty),
          .status = bike.status,
          .last = bike.steps.empty() ? std::string() : step_text(bike.steps.back())};
}

}  // namespace

Result<documents::RecallList> RecallDesk::paper(const std::string& number) {
  const auto view = recall(number);
  if (!view) return std::unexpected(view.error());
  const auto state = shop_.state();
  if (!state) return std::unexpected(state.error());
  documents::RecallList list{.shop = (*state)->settings.name,
                             .invented = (*state)->settings.invented,
                             .printed = shop_.clock_.now(), .number = number,
                             .part = view->line.part, .wrong = view->line.wrong,
                             .danger = view->line.danger, .remedy = view->line.remedy,
                             .opened = fmt::format("opened {} by {}",
                                                   in_words(view->line.opened, true),
                                                   view->line.opened_by),
                             .progress = view->line.progress + ".", .bikes = {}, .stock = {}};
  if (!view->ranges.empty()) list.part += ", " + view->ranges;
  if (!view->line.notice.empty()) list.opened += "; notice: " + view->line.notice;
  for (const RecalledBike& bike : view->bikes) list.bikes.push_back(bike_on_list(bike));
  for (const RecalledBike& bike : view->orders) list.bikes.push_back(bike_on_list(bike));
  for (const RecalledStock& stock : view->stock) {
    list.stock.push_back(fmt::format("{} ({}).", stock.sentence, stock.certainty));
  }
  return list;
}

Result<std::string> RecallDesk::list_pdf(const std::string& number) {
  const auto list = paper(number);
  if (!list) return std::unexpected(list.error());
  return documents::recall_list_pdf(*list);
}

Result<std::string> RecallDesk::list_csv(const std::string& number) {
  const auto list = paper(number);
  if (!list) return std::unexpected(list.error());
  return documents::recall_list_csv(*list);
}

}  // namespace rollwright::shop
