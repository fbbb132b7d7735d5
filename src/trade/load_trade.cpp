#include "trade/load_trade.hpp"

#include <algorithm>
#include <filesystem>
#include <set>

#include <fmt/format.h>

#include "trade/trade_loading.hpp"

namespace rollwright::trade {
namespace {

/// In the order of the files and their lines; the same problem of several variants once.
void put_in_order(Problems& problems, const std::vector<std::string>& files) {
  const auto rank = [&files](const Error& error) {
    return std::pair(std::ranges::find(files, error.place.file) - files.begin(), error.place.line);
  };
  std::ranges::stable_sort(problems, {}, rank);
  std::set<std::string> told;
  std::erase_if(problems,
                [&told](const Error& problem) { return !told.insert(problem.full()).second; });
}

}  // namespace

LoadedTrade load_trade(const std::string& folder) {
  TradeLoading loading{.folder = folder};
  std::error_code trouble;
  if (!std::filesystem::is_directory(folder, trouble)) {
    loading.problem(Code::kNotFound, "there is no such folder", {.file = folder});
    return {.trade = {}, .problems = std::move(loading.problems)};
  }
  // Each loader may ask for names that an earlier one has read.
  load_lead_times(loading);
  load_label_sheets(loading);
  load_attributes(loading);
  load_kinds(loading);
  load_slots(loading);
  load_traits(loading);
  load_templates(loading);
  load_tables(loading);
  load_rules(loading);
  load_questions(loading);
  load_cautions(loading);
  load_operations(loading);
  load_readings(loading);
  load_check_lines(loading);
  put_in_order(loading.problems, loading.files);
  return {.trade = std::move(loading.trade), .problems = std::move(loading.problems)};
}

}  // namespace rollwright::trade
