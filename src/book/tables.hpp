#pragma once

#include <map>
#include <string>
#include <vector>

#include "book/database.hpp"
#include "trade/shop_files.hpp"

/// Things to rows and back. Each `put` replaces what the table holds under the same key and is
/// called inside a transaction; each `read` gives everything in key order. Read and put are each
/// other's inverse: a test walks all of them.
namespace rollwright::book {

Result<void> put(Database& database, const trade::ShopSettings& settings);
Result<void> put(Database& database, const trade::Area& area);
Result<void> put(Database& database, const trade::Person& person);
Result<void> put(Database& database, const trade::Supplier& supplier);
Result<void> put(Database& database, const trade::Part& part);
Result<void> put(Database& database, const trade::Offer& offer);
Result<void> put(Database& database, const trade::Stock& stock);
Result<void> put(Database& database, const trade::PurchaseLine& line);
Result<void> put(Database& database, const trade::Receipt& receipt);
Result<void> put(Database& database, const trade::Used& used);
Result<void> put(Database& database, const trade::PromiseSaid& promise);
Result<void> put(Database& database, const trade::TimeTaken& time);
Result<void> put(Database& database, const trade::Tool& tool);
Result<void> put(Database& database, const trade::Order& order);
Result<void> put(Database& database, const trade::SignedSpec& spec);
Result<void> put(Database& database, const trade::OrderMoved& moved);
Result<void> put_route(Database& database, const std::string& id, const std::string& gpx);
Result<void> put_mapping(Database& database, const std::string& supplier,
                         const std::string& mapping);
Result<void> put(Database& database, const trade::TakenList& list);

Result<void> put(Database& database, const trade::PlanSettings& settings);
Result<void> put(Database& database, const trade::AgreedPlan& plan);
Result<void> put(Database& database, const trade::OrderPlan& plan);
Result<void> put(Database& database, const trade::Recall& recall);
Result<void> put(Database& database, const trade::RecallStep& step);
/// Forms, lists and answers only grow. Errors: kConflict when this one is there already.
Result<void> put(Database& database, const trade::MakerForm& form);
Result<void> put(Database& database, const trade::MakerList& list);
Result<void> put(Database& database, const trade::DifferenceAnswer& answer);

Result<void> remove_offer(Database& database, const trade::SupplierId& supplier,
                          const trade::PartId& part);
/// By the days, the part, the supplier and the count.
Result<void> remove_receipt(Database& database, const trade::Receipt& receipt);
/// With its facts. Errors: kConflict when an order names it; the database's when stock, a purchase
/// or an offer does.
Result<void> remove_part(Database& database, const trade::PartId& part);

Result<std::vector<trade::ShopSettings>> read_settings(Database& database);
Result<std::vector<trade::Area>> read_areas(Database& database);
Result<std::vector<trade::Person>> read_people(Database& database);
Result<std::vector<trade::Supplier>> read_suppliers(Database& database);
Result<std::vector<trade::Part>> read_parts(Database& database);
Result<std::vector<trade::Offer>> read_offers(Database& database);
Result<std::vector<trade::Stock>> read_stock(Database& database);
Result<std::vector<trade::PurchaseLine>> read_purchases(Database& database);
Result<std::vector<trade::Receipt>> read_receipts(Database& database);
Result<std::vector<trade::Used>> read_used(Database& database);
Result<std::vector<trade::PromiseSaid>> read_promises(Database& database);
Result<std::vector<trade::TimeTaken>> read_times(Database& database);
Result<std::vector<trade::Tool>> read_tools(Database& database);
/// All orders, or the one with this id when it is not empty.
Result<std::vector<trade::Order>> read_orders(Database& database, const trade::OrderId& only = {});
Result<std::vector<trade::SignedSpec>> read_signed_specs(Database& database);
Result<std::vector<trade::OrderMoved>> read_order_moves(Database& database);
Result<std::map<std::string, std::string>> read_routes(Database& database);
Result<std::map<std::string, std::string>> read_mappings(Database& database);
Result<std::vector<trade::TakenList>> read_taken_lists(Database& database);
Result<std::vector<trade::PlanSettings>> read_plan_settings(Database& database);
Result<std::vector<trade::AgreedPlan>> read_agreed_plans(Database& database);
Result<std::vector<trade::OrderPlan>> read_order_plans(Database& database);
Result<std::vector<trade::Recall>> read_recalls(Database& database);
Result<std::vector<trade::RecallStep>> read_recall_steps(Database& database);
Result<std::vector<trade::MakerForm>> read_maker_forms(Database& database);
Result<std::vector<trade::MakerList>> read_maker_lists(Database& database);
Result<std::vector<trade::DifferenceAnswer>> read_difference_answers(Database& database);

}  // namespace rollwright::book
