#include <filesystem>

#include <fmt/format.h>

#include "mech/route.hpp"
#include "shop/recall_desk.hpp"
#include "shop/shop.hpp"
#include "trade/shop_files.hpp"

namespace rollwright::shop {
namespace {

trade::KnownNames names_in(const State& state) {
  trade::KnownNames known;
  for (const trade::Part& part : state.held.parts) known.parts[part.id] = part.kind;
  for (const trade::Supplier& supplier : state.held.suppliers) {
    known.suppliers.push_back(supplier.id);
  }
  for (const trade::Order& order : state.held.orders) known.orders.push_back(order.id);
  for (const auto& [id, gpx] : state.held.routes) known.routes.push_back(id);
  for (const trade::FreightLeg& leg : state.all_else->terms.freight_legs) {
    known.freight_legs.push_back(leg.name);
  }
  return known;
}

std::map<std::string, int> counts_of(const trade::ShopFiles& files) {
  std::map<std::string, int> counts;
  const auto count = [&counts](const char* what, std::size_t number) {
    if (number > 0) counts[what] = static_cast<int>(number);
  };
  count("settings", files.settings.size());
  count("areas", files.areas.size());
  count("people", files.people.size());
  count("suppliers", files.suppliers.size());
  count("parts", files.parts.size());
  count("offers", files.offers.size());
  count("stock", files.stock.size());
  count("purchases", files.purchases.size());
  count("receipts", files.receipts.size());
  count("used", files.used.size());
  count("promises", files.promises.size());
  count("times taken", files.times.size());
  count("tools", files.tools.size());
  count("orders", files.orders.size());
  count("routes", files.routes.size());
  return counts;
}

}  // namespace

Result<ImportReport> Shop::import(const std::string& path, const std::string& who, bool dry_run) {
  const auto current = state();
  if (!current) return std::unexpected(current.error());
  if (!std::filesystem::exists(path)) {
    return refuse(Code::kNotFound, "there is no such file or folder", {.file = path});
  }
  trade::ReadShopFiles read = trade::read_shop_files(trade_, path, names_in(**current));
  for (const auto& [id, gpx] : read.files.routes) {
    if (const auto route = mech::read_gpx(gpx, "routes/" + id + ".gpx"); !route) {
      read.problems.push_back(route.error());
    }
  }
  ImportReport report{.counts = counts_of(read.files)};
  for (const Error& problem : read.problems) report.problems.push_back(problem.full());
  if (!report.problems.empty() || dry_run) return report;

  // An order that is already in the book is written over what the book holds now.
  for (trade::Order& order : read.files.orders) {
    const auto held = (*current)->orders.find(order.id);
    if (held != (*current)->orders.end()) order.revision = held->second->revision;
  }
  book::Change change{.who = who, .what = "import", .why = "files in " + path,
                      .at = clock_.now(), .put = std::move(read.files)};
  if (Result<void> ok = recalls_->keep_flags(change); !ok) return std::unexpected(ok.error());
  if (const auto written = book_.write(change); !written) return std::unexpected(written.error());
  report.imported = true;
  if (listener_) listener_("", "import");
  return report;
}

}  // namespace rollwright::shop
