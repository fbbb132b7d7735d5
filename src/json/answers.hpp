#pragma once

#include <string>
#include <string_view>

#include "aids/does.hpp"
#include "aids/filled.hpp"
#include "base/result.hpp"
#include "shop/bench_views.hpp"
#include "shop/buy_views.hpp"
#include "shop/care_views.hpp"
#include "shop/catalogue_views.hpp"
#include "shop/fact_views.hpp"
#include "shop/fit_views.hpp"
#include "shop/goods_views.hpp"
#include "shop/house_views.hpp"
#include "shop/kept_views.hpp"
#include "shop/label_views.hpp"
#include "shop/life_views.hpp"
#include "shop/load_views.hpp"
#include "shop/maker_views.hpp"
#include "shop/minutes_views.hpp"
#include "shop/order_views.hpp"
#include "shop/part_views.hpp"
#include "shop/people_views.hpp"
#include "shop/plan_views.hpp"
#include "shop/promise_views.hpp"
#include "shop/purchase_views.hpp"
#include "shop/recall_views.hpp"
#include "shop/sooner_views.hpp"
#include "trade/sheet.hpp"

/// What the use cases answer, as JSON text with the names of shop/*_views.hpp and web/openapi.yaml:
/// days as ISO text, what is not there as null. The command line's --json and the HTTP API print
/// the same bytes.
namespace rollwright::json {

[[nodiscard]] std::string text_of(const shop::ShopView& view);
[[nodiscard]] std::string text_of(const shop::TodayView& view);
[[nodiscard]] std::string text_of(const std::vector<shop::OrderLine>& lines);
[[nodiscard]] std::string text_of(const shop::OrderView& view);
[[nodiscard]] std::string text_of(const shop::SlotChoicesView& view);
[[nodiscard]] std::string text_of(const shop::ClashView& view);
[[nodiscard]] std::string text_of(const shop::CompletionView& view);
[[nodiscard]] std::string text_of(const std::vector<shop::CompletionView>& views);
[[nodiscard]] std::string text_of(const std::vector<shop::RepairView>& views);
[[nodiscard]] std::string text_of(const std::vector<shop::OrderQuestions>& view);
[[nodiscard]] std::string text_of(const shop::LifeView& view);
[[nodiscard]] std::string text_of(const shop::ChangePriceView& view);
[[nodiscard]] std::string text_of(const shop::SettlementView& view);
[[nodiscard]] std::string text_of(const shop::NotKnownView& view);
[[nodiscard]] std::string text_of(const shop::PromiseView& view);
[[nodiscard]] std::string text_of(const shop::SoonerView& view);
[[nodiscard]] std::string text_of(const shop::KeptView& view);
[[nodiscard]] std::string text_of(const shop::PlanView& view);
[[nodiscard]] std::string text_of(const shop::LoadView& view);
[[nodiscard]] std::string text_of(const shop::MinutesView& view);
[[nodiscard]] std::string text_of(const shop::LabelsView& view);
[[nodiscard]] std::string text_of(const shop::ProposalView& view);
[[nodiscard]] std::string text_of(const shop::ImproveProgress& view);
[[nodiscard]] std::string text_of(const shop::BuyView& view);
[[nodiscard]] std::string text_of(const shop::PlacedView& view);
[[nodiscard]] std::string text_of(const shop::ArrivalsView& view);
[[nodiscard]] std::string text_of(const shop::ArrivalLine& view);
[[nodiscard]] std::string text_of(const shop::SmallStockView& view);
[[nodiscard]] std::string text_of(const shop::PartsView& view);
[[nodiscard]] std::string text_of(const shop::PartView& view);
[[nodiscard]] std::string text_of(const std::vector<shop::FoundLine>& lines);
[[nodiscard]] std::string text_of(const std::vector<shop::StationPerson>& view);
[[nodiscard]] std::string text_of(const shop::PersonSignIn& view);
[[nodiscard]] std::string text_of(const shop::PeopleView& view);
[[nodiscard]] std::string text_of(const shop::MeView& view);
[[nodiscard]] std::string text_of(const shop::ImportReport& report);
[[nodiscard]] std::string text_of(const shop::JournalReport& report);
[[nodiscard]] std::string text_of(const shop::MappingView& view);
[[nodiscard]] std::string text_of(const shop::PreviewView& view);
[[nodiscard]] std::string text_of(const shop::TakeInView& view);
[[nodiscard]] std::string text_of(const shop::UndoView& view);
[[nodiscard]] std::string text_of(const shop::CatalogueView& view);
[[nodiscard]] std::string text_of(const trade::Sheet& sheet);
[[nodiscard]] std::string text_of(const shop::BenchListView& view);
[[nodiscard]] std::string text_of(const shop::BenchView& view);
[[nodiscard]] std::string text_of(const shop::WrittenView& view);
[[nodiscard]] std::string text_of(const shop::HistoryView& view);
[[nodiscard]] std::string text_of(const shop::PhotosView& view);
[[nodiscard]] std::string text_of(const shop::TraceView& view);
[[nodiscard]] std::string text_of(const shop::RecallsView& view);
[[nodiscard]] std::string text_of(const shop::RecallView& view);
[[nodiscard]] std::string text_of(const shop::MakerView& view);
[[nodiscard]] std::string text_of(const shop::CareView& view);
[[nodiscard]] std::string text_of(const shop::ComingBackView& view);
[[nodiscard]] std::string text_of(const std::vector<aids::Aid>& aids);
[[nodiscard]] std::string text_of(const aids::Reckoned& reckoned);
[[nodiscard]] std::string text_of(const aids::FilledAid& filled);
[[nodiscard]] std::string text_of(const aids::Does& does);
/// {"code": "not found", "sentence": ..., "file": ..., "line": ..., "field": ..., "value": ...}
[[nodiscard]] std::string text_of(const Error& error);

}  // namespace rollwright::json
