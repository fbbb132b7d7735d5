#pragma once

#include <string>

#include "trade/shop_files.hpp"

namespace rollwright::book {

/// The name under which the journal knows a thing, and everything the book holds about it as one
/// line of JSON with a fixed order of fields: the same thing always gives the same text. Journal
/// entries store it before and after; verifying compares it with the tables.
struct Record {
  std::string subject;  // "order 2041", "part HB-0412"
  std::string text;
};

[[nodiscard]] Record record_of(const trade::ShopSettings& settings);
[[nodiscard]] Record record_of(const trade::Area& area);
[[nodiscard]] Record record_of(const trade::Person& person);
[[nodiscard]] Record record_of(const trade::Supplier& supplier);
[[nodiscard]] Record record_of(const trade::Part& part);
[[nodiscard]] Record record_of(const trade::Offer& offer);
[[nodiscard]] Record record_of(const trade::Stock& stock);
[[nodiscard]] Record record_of(const trade::PurchaseLine& line);
[[nodiscard]] Record record_of(const trade::Receipt& receipt);
[[nodiscard]] Record record_of(const trade::Used& used);
[[nodiscard]] Record record_of(const trade::PromiseSaid& promise);
[[nodiscard]] Record record_of(const trade::TimeTaken& time);
[[nodiscard]] Record record_of(const trade::Tool& tool);
[[nodiscard]] Record record_of(const trade::Order& order);
[[nodiscard]] Record record_of(const trade::SignedSpec& spec);
[[nodiscard]] Record record_of(const trade::OrderMoved& moved);
[[nodiscard]] Record record_of_route(const std::string& id, const std::string& gpx);
[[nodiscard]] Record record_of_mapping(const std::string& supplier, const std::string& mapping);
[[nodiscard]] Record record_of(const trade::TakenList& list);
[[nodiscard]] Record record_of(const trade::PlanSettings& settings);
[[nodiscard]] Record record_of(const trade::AgreedPlan& plan);
/// Empty when the plan does not know the order: nothing is held about it.
[[nodiscard]] Record record_of(const trade::OrderPlan& plan);
[[nodiscard]] Record record_of(const trade::Recall& recall);
[[nodiscard]] Record record_of(const trade::RecallStep& step);
[[nodiscard]] Record record_of(const trade::MakerForm& form);
[[nodiscard]] Record record_of(const trade::MakerList& list);
[[nodiscard]] Record record_of(const trade::DifferenceAnswer& answer);

/// Subjects of things that a change takes away.
[[nodiscard]] std::string offer_subject(const trade::SupplierId& supplier,
                                        const trade::PartId& part);
[[nodiscard]] std::string part_subject(const trade::PartId& part);

/// A part or an offer as its record says; the inverse of `record_of`. Errors: kDamaged for a text
/// that is no such record.
[[nodiscard]] Result<trade::Part> part_from(const trade::PartId& id, const std::string& text);
[[nodiscard]] Result<trade::Offer> offer_from(const trade::SupplierId& supplier,
                                              const trade::PartId& part, const std::string& text);

}  // namespace rollwright::book
