#include "trade/trade_loading.hpp"

#include <algorithm>
#include <filesystem>

#include <fmt/format.h>

#include "base/text.hpp"
#include "trade/meant.hpp"

namespace rollwright::trade {

void TradeLoading::problem(Code code, std::string sentence, Place place) {
  problems.push_back({code, std::move(sentence), std::move(place)});
}

void TradeLoading::toml_file(const std::string& file, std::string_view heading,
                             const std::function<void(TableReader&)>& each) {
  files.push_back(file);
  const Result<std::string> text = read_file(folder + "/" + file);
  if (!text) {
    unread.insert(file);
    problem(text.error().code,
            text.error().code == Code::kNotFound ? "this file is missing" : text.error().sentence,
            {.file = file});
    return;
  }
  const Result<TomlValue> root = parse_toml(*text, file);
  if (!root) {
    unread.insert(file);
    problems.push_back(root.error());
    return;
  }
  TableReader whole(*root, file, problems);
  for (const TomlValue* table : whole.tables(heading)) {
    TableReader reader(*table, file, problems);
    each(reader);
  }
  whole.finish();
}

std::optional<Csv> TradeLoading::csv_file(const std::string& file) {
  files.push_back(file);
  const Result<std::string> text = read_file(folder + "/" + file);
  if (!text) {
    unread.insert(file);
    problem(text.error().code,
            text.error().code == Code::kNotFound ? "this file is missing" : text.error().sentence,
            {.file = file});
    return std::nullopt;
  }
  Result<Csv> csv = parse_csv(*text, file);
  if (!csv) {
    unread.insert(file);
    problems.push_back(csv.error());
    return std::nullopt;
  }
  return std::move(*csv);
}

std::vector<std::string> TradeLoading::files_in(const std::string& subfolder,
                                                std::string_view ending) {
  std::vector<std::string> found;
  std::error_code trouble;
  for (std::filesystem::directory_iterator at(folder + "/" + subfolder, trouble), end;
       !trouble && at != end; at.increment(trouble)) {
    std::string name = at->path().filename().string();
    if (name.ends_with(ending)) found.push_back(subfolder + "/" + name);
  }
  std::ranges::sort(found);
  return found;
}

bool OnlyOnce::is_new(TableReader& reader, const std::string& id) {
  if (id.empty()) return false;
  const std::string here = fmt::format("{}, line {}", reader.file(), reader.line_of("id"));
  const auto [first, inserted] = first_.emplace(id, here);
  if (!inserted) {
    reader.problem("id", Code::kConflict,
                   fmt::format("this {} is there twice, first at {}; give one of them another id",
                               what_, first->second),
                   id);
  }
  return inserted;
}

void check_names(TableReader& reader, std::string_view key, const std::vector<std::string>& names,
                 const std::vector<std::string>& known, std::string_view what) {
  std::set<std::string> seen;
  for (const std::string& name : names) {
    if (std::ranges::count(known, name) == 0) {
      reader.problem(key, Code::kBadInput,
                     fmt::format("no {} is called so{}", what, meant(name, known)), name);
    } else if (!seen.insert(name).second) {
      reader.problem(key, Code::kBadInput, fmt::format("this {} is there twice; say it once", what),
                     name);
    }
  }
}

AppliesWhen read_when(TradeLoading& loading, TableReader& reader, std::string_view key) {
  AppliesWhen when;
  const TomlValue* table = reader.table(key);
  if (table == nullptr) return when;
  TableReader inside(*table, reader.file(), loading.problems, std::string(key) + ".");
  when.all = inside.texts("all");
  when.any = inside.texts("any");
  when.none = inside.texts("none");
  inside.finish();
  if (!loading.is_read("traits.toml")) return when;
  const std::vector<std::string> traits = names_in(loading.trade.traits);
  check_names(inside, "all", when.all, traits, "trait");
  check_names(inside, "any", when.any, traits, "trait");
  check_names(inside, "none", when.none, traits, "trait");
  for (const std::string& trait : when.none) {
    if (std::ranges::count(when.all, trait) > 0) {
      inside.problem("none", Code::kContradiction,
                     "this trait is asked for by `all` and refused here; it would never apply",
                     trait);
    }
  }
  return when;
}

}  // namespace rollwright::trade
