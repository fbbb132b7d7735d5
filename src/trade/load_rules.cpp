#include "trade/written_rule.hpp"

namespace rollwright::trade {

void load_rules(TradeLoading& loading) {
  const std::vector<std::string> files = loading.files_in("rules", ".toml");
  if (files.empty()) {
    loading.problem(Code::kNotFound, "there is no file rules/*.toml", {.file = "rules"});
  }
  OnlyOnce once("rule");
  for (const std::string& file : files) {
    loading.toml_file(file, "rule", [&](TableReader& reader) {
      const std::optional<WrittenRule> written = read_written_rule(loading, reader);
      if (reader.has("id") && !once.is_new(reader, reader.text_or("id", ""))) return;
      if (!written) return;
      for (const WrittenRule& variant : made_out(loading, *written)) {
        if (auto rule = resolved(loading, variant)) loading.trade.rules.push_back(std::move(*rule));
      }
    });
  }
}

}  // namespace rollwright::trade
