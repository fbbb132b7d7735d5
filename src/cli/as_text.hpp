#pragma once

#include <string>
#include <vector>

#include "aids/does.hpp"
#include "aids/filled.hpp"
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

/// What the use cases answer, for reading in a terminal: sentences first, then plain columns.
namespace rollwright::cli {

[[nodiscard]] std::string as_text(const shop::BenchListView& view);
[[nodiscard]] std::string as_text(const shop::BenchView& view);
[[nodiscard]] std::string as_text(const shop::WrittenView& view);
[[nodiscard]] std::string as_text(const shop::HistoryView& view);
[[nodiscard]] std::string as_text(const shop::PhotosView& view);
[[nodiscard]] std::string as_text(const shop::TraceView& view);
[[nodiscard]] std::string as_text(const shop::RecallsView& view);
[[nodiscard]] std::string as_text(const shop::RecallView& view);
[[nodiscard]] std::string as_text(const shop::MakerView& view);
[[nodiscard]] std::string as_text(const shop::CareView& view);
[[nodiscard]] std::string as_text(const shop::ComingBackView& view);
[[nodiscard]] std::string as_text(const shop::TodayView& view);
[[nodiscard]] std::string as_text(const std::vector<shop::OrderLine>& lines);
[[nodiscard]] std::string as_text(const shop::OrderView& view);
[[nodiscard]] std::string as_text(const shop::SlotChoicesView& view);
[[nodiscard]] std::string as_text(const shop::ClashView& view);
[[nodiscard]] std::string as_text(const shop::CompletionView& view);
[[nodiscard]] std::string as_text(const std::vector<shop::CompletionView>& views);
[[nodiscard]] std::string as_text(const std::vector<shop::RepairView>& views);
[[nodiscard]] std::string as_text(const std::vector<shop::OrderQuestions>& orders);
[[nodiscard]] std::string as_text(const shop::LifeView& view);
[[nodiscard]] std::string as_text(const shop::ChangePriceView& view);
[[nodiscard]] std::string as_text(const shop::SettlementView& view);
[[nodiscard]] std::string as_text(const shop::NotKnownView& view);
[[nodiscard]] std::string as_text(const shop::PromiseView& view);
[[nodiscard]] std::string as_text(const shop::SoonerView& view);
[[nodiscard]] std::string as_text(const shop::KeptView& view);
[[nodiscard]] std::string as_text(const shop::PlanView& view);
[[nodiscard]] std::string as_text(const shop::LoadView& view);
[[nodiscard]] std::string as_text(const shop::MinutesView& view);
[[nodiscard]] std::string as_text(const shop::LabelsView& view);
[[nodiscard]] std::string as_text(const shop::ProposalView& view);
[[nodiscard]] std::string as_text(const shop::BuyView& view);
[[nodiscard]] std::string as_text(const shop::PlacedView& view);
[[nodiscard]] std::string as_text(const shop::ArrivalsView& view);
[[nodiscard]] std::string as_text(const shop::ArrivalLine& line);
[[nodiscard]] std::string as_text(const shop::SmallStockView& view);
[[nodiscard]] std::string as_text(const shop::PartsView& view);
[[nodiscard]] std::string as_text(const shop::PartView& view);
[[nodiscard]] std::string as_text(const std::vector<shop::FoundLine>& lines);
[[nodiscard]] std::string as_text(const shop::ImportReport& report);
[[nodiscard]] std::string as_text(const shop::MappingView& view);
[[nodiscard]] std::string as_text(const shop::PreviewView& view);
[[nodiscard]] std::string as_text(const shop::TakeInView& view);
[[nodiscard]] std::string as_text(const shop::UndoView& view);
[[nodiscard]] std::string as_text(const shop::CatalogueView& view);
[[nodiscard]] std::string as_text(const shop::JournalReport& report);
[[nodiscard]] std::string as_text(const shop::PersonSignIn& person);
[[nodiscard]] std::string as_text(const trade::Sheet& sheet);
[[nodiscard]] std::string as_text(const std::vector<aids::Aid>& aids);
[[nodiscard]] std::string as_text(const aids::Reckoned& reckoned);
[[nodiscard]] std::string as_text(const aids::FilledAid& filled);
[[nodiscard]] std::string as_text(const aids::Does& does);
/// Its fields, its method and its sources.
[[nodiscard]] std::string about(const aids::Aid& aid);
/// Only what the fit rules say of the specification.
[[nodiscard]] std::string check_as_text(const shop::OrderView& view);

}  // namespace rollwright::cli
