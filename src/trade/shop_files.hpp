#pragma once

#include <map>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "trade/agreed_plan.hpp"
#include "trade/maker_list.hpp"
#include "trade/order.hpp"
#include "trade/order_moved.hpp"
#include "trade/part.hpp"
#include "trade/person.hpp"
#include "trade/promise_said.hpp"
#include "trade/recall.hpp"
#include "trade/signed_spec.hpp"
#include "trade/supplier.hpp"
#include "trade/taken_list.hpp"
#include "trade/time_taken.hpp"
#include "trade/tool.hpp"
#include "trade/trade.hpp"

namespace rollwright::trade {

/// What a shop's files said; docs/formats.md describes them. Any part may be empty: a folder that
/// holds only parts/K-TY.csv imports tyres.
struct ShopFiles {
  std::vector<ShopSettings> settings;  // none or one
  std::vector<Area> areas;
  std::vector<Person> people;
  std::vector<Supplier> suppliers;
  std::vector<Part> parts;
  std::vector<Offer> offers;
  std::vector<Stock> stock;
  std::vector<PurchaseLine> purchases;
  std::vector<Receipt> receipts;
  std::vector<Used> used;
  std::vector<PromiseSaid> promises;
  std::vector<TimeTaken> times;
  std::vector<Tool> tools;
  std::vector<Order> orders;
  std::map<std::string, std::string> routes;  // id -> GPX text
  std::map<std::string, std::string> mappings;  // supplier -> how its lists are read, as TOML
  // Only in the book, never in files:
  std::vector<TakenList> taken_lists;
  std::vector<SignedSpec> signed_specs;
  std::vector<OrderMoved> order_moves;
  std::vector<PlanSettings> plan_settings;  // none or one
  std::vector<AgreedPlan> agreed_plans;     // none or one
  std::vector<OrderPlan> order_plans;
  std::vector<Recall> recalls;
  std::vector<RecallStep> recall_steps;
  std::vector<MakerForm> maker_forms;
  std::vector<MakerList> maker_lists;
  std::vector<DifferenceAnswer> difference_answers;
};

/// What is in the book already and may be referred to by new files.
struct KnownNames {
  std::map<PartId, KindId> parts;
  std::vector<SupplierId> suppliers;
  std::vector<OrderId> orders;
  std::vector<std::string> routes;
  std::vector<std::string> freight_legs;  // of data/trade; empty: legs are not checked
};

struct ReadShopFiles {
  ShopFiles files;
  Problems problems;  // all of them, in file and line order; import only when empty
};

/// Reads a folder or a single file. Every row is judged; `problems` lists each with file, line,
/// field, value and what would be right.
[[nodiscard]] ReadShopFiles read_shop_files(const Trade& trade, const std::string& path,
                                            const KnownNames& known = {});

}  // namespace rollwright::trade
