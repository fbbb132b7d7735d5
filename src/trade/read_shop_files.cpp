#include <algorithm>
#include <filesystem>

#include <fmt/format.h>

#include "base/text.hpp"
#include "trade/meant.hpp"
#include "trade/pseudo.hpp"
#include "trade/shop_reading.hpp"

namespace rollwright::trade {
namespace {

namespace fs = std::filesystem;

/// The roles of files whose names are fixed, in the order in which they are read: those that give
/// names come before those that use them.
struct Role {
  std::string_view name;
  void (*read)(ShopReading&, const ShopFile&);
  int place;
};
constexpr int kPartsPlace = 3;
constexpr int kRoutesPlace = 5;
constexpr int kUnknownPlace = 100;
constexpr Role kRoles[] = {
    {"shop.toml", read_shop_settings, 0},  {"people.toml", read_people, 1},
    {"suppliers.toml", read_suppliers, 2}, {"measured.csv", read_measured, 4},
    {"orders.toml", read_orders, 6},       {"offers.csv", read_offers, 7},
    {"stock.csv", read_stock, 8},          {"put_by.csv", read_put_by, 9},
    {"purchases.csv", read_purchases, 10}, {"receipts.csv", read_receipts, 11},
    {"used.csv", read_used, 12},
    {"promises.csv", read_promises, 13},   {"times.csv", read_times, 14},
    {"tools.csv", read_tools, 15},
};

const Role* role_of(const std::string& name) {
  const auto found = std::ranges::find(kRoles, std::string_view(name), &Role::name);
  return found == std::end(kRoles) ? nullptr : &*found;
}

std::string base_name(const std::string& path) { return fs::path(path).filename().string(); }

bool is_parts_file(const std::string& name) {
  const std::string base = base_name(name);
  return base.ends_with(".csv") && (base.starts_with("K-") || name.starts_with("parts/"));
}

int place_of(const ShopFile& file) {
  const std::string base = base_name(file.name);
  if (const Role* role = role_of(base)) return role->place;
  if (is_parts_file(file.name)) return kPartsPlace;
  return base.ends_with(".gpx") ? kRoutesPlace : kUnknownPlace;
}

/// Files that look like ours; others (a README, a picture) are let be.
bool is_data(const fs::path& path) {
  const std::string ending = path.extension().string();
  return ending == ".toml" || ending == ".csv" || ending == ".gpx";
}

void add_files_of(const fs::path& folder, const std::string& prefix, std::vector<ShopFile>& files,
                  ShopReading& reading) {
  std::error_code trouble;
  for (fs::directory_iterator at(folder, trouble), end; !trouble && at != end;
       at.increment(trouble)) {
    const std::string name = prefix + at->path().filename().string();
    std::error_code unreadable;
    if (at->is_directory(unreadable)) {
      if (prefix.empty() && (name == "parts" || name == "routes")) {
        add_files_of(at->path(), name + "/", files, reading);
      }
    } else if (is_data(at->path())) {
      files.push_back({.path = at->path().string(), .name = name});
    }
  }
  if (trouble) {
    reading.problem(Code::kUnavailable,
                    fmt::format("this folder could not be read ({})", trouble.message()),
                    {.file = prefix.empty() ? folder.string() : prefix});
  }
}

void read_parts_file(ShopReading& reading, const ShopFile& file) {
  const std::string id = fs::path(file.name).stem().string();
  const auto kind = reading.trade.kinds.find(KindId(id));
  if (kind != reading.trade.kinds.end() && !is_pseudo(kind->first)) {
    return read_parts(reading, file, kind->second);
  }
  std::vector<std::string> known;
  for (const auto& [each, about] : reading.trade.kinds) {
    if (!is_pseudo(each)) known.push_back(each.text);
  }
  reading.all_parts = false;
  reading.problem(Code::kBadInput,
                  "a file of parts is named by its kind, as in K-FK.csv; no kind is called so" +
                      meant(id, known),
                  {.file = file.name, .value = id});
}

void read_one(ShopReading& reading, const ShopFile& file) {
  const std::string base = base_name(file.name);
  if (const Role* role = role_of(base)) return role->read(reading, file);
  if (is_parts_file(file.name)) return read_parts_file(reading, file);
  if (base.ends_with(".gpx")) return read_route(reading, file);
  std::vector<std::string> known;
  for (const Role& role : kRoles) known.emplace_back(role.name);
  reading.problem(Code::kBadInput,
                  "no file of a shop is called so" + meant(base, known) +
                      "; parts are in parts/<kind>.csv, routes in routes/*.gpx",
                  {.file = file.name, .value = base});
}

/// The same role twice (parts/K-FK.csv beside K-FK.csv) would leave open which one holds.
void refuse_same_names(ShopReading& reading, std::vector<ShopFile>& files) {
  std::map<std::string, std::string> first;
  std::erase_if(files, [&](const ShopFile& file) {
    const auto [before, is_new] = first.emplace(base_name(file.name), file.name);
    if (!is_new) {
      reading.all_parts = reading.all_parts && !is_parts_file(file.name);
      reading.problem(Code::kConflict,
                      fmt::format("{} is there as well; keep one of them", before->second),
                      {.file = file.name});
    }
    return !is_new;
  });
}

void put_in_order(ShopReading& reading) {
  std::map<std::string, std::size_t> rank;
  for (const std::string& file : reading.file_order) rank.emplace(file, rank.size());
  std::ranges::stable_sort(reading.problems, {}, [&rank](const Error& problem) {
    const auto found = rank.find(problem.place.file);
    return std::pair(found == rank.end() ? rank.size() : found->second, problem.place.line);
  });
}

}  // namespace

void read_route(ShopReading& reading, const ShopFile& file) {
  const std::string id = fs::path(file.name).stem().string();
  reading.routes.insert(id);
  Result<std::string> text = read_file(file.path);
  if (!text) return reading.problem(text.error().code, text.error().sentence, {.file = file.name});
  if (trim(*text).empty()) {
    return reading.problem(Code::kBadInput, "the file is empty; export the route as GPX again",
                           {.file = file.name});
  }
  reading.files.routes[id] = std::move(*text);
}

ReadShopFiles read_shop_files(const Trade& trade, const std::string& path,
                              const KnownNames& known) {
  ShopReading reading(trade, known);
  std::vector<ShopFile> files;
  std::error_code trouble;
  const fs::file_status status = fs::status(path, trouble);
  if (fs::is_directory(status)) {
    add_files_of(path, "", files, reading);
    if (files.empty()) {
      reading.problem(Code::kNotFound,
                      "this folder holds none of a shop's files (shop.toml, parts/K-FK.csv, ...)",
                      {.file = path});
    }
  } else if (fs::is_regular_file(status)) {
    files.push_back({.path = path, .name = base_name(path)});
  } else {
    reading.problem(Code::kNotFound, "there is no such file or folder", {.file = path});
  }
  std::ranges::sort(files, {},
                    [](const ShopFile& file) { return std::pair(place_of(file), file.name); });
  refuse_same_names(reading, files);
  for (const ShopFile& file : files) {
    reading.file_order.push_back(file.name);
    if (base_name(file.name) == "people.toml") reading.reads_people = true;
  }
  for (const ShopFile& file : files) read_one(reading, file);
  put_in_order(reading);
  return {.files = std::move(reading.files), .problems = std::move(reading.problems)};
}

}  // namespace rollwright::trade
