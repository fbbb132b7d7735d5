#include "trade/maker_papers.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "trade/csv_row_reader.hpp"
#include "trade/meant.hpp"

namespace rollwright::trade {
namespace {

constexpr const char* kMakerPapers = "maker_papers.csv";

}  // namespace

Result<std::vector<MakerPaper>> read_maker_papers(std::string_view text, const std::string& file,
                                                  const std::map<std::string, Trait>& traits) {
  const Result<Csv> csv = parse_csv(text, file);
  if (!csv) return std::unexpected(csv.error());
  Problems problems;
  if (!check_headings(*csv, {"paper", "trait", "source"}, {}, problems)) {
    return std::unexpected(problems.front());
  }
  std::vector<MakerPaper> papers;
  for (const CsvRow& line : csv->rows) {
    CsvRowReader row(*csv, line, problems);
    MakerPaper paper{.paper = row.text("paper"), .trait = row.cell("trait"),
                     .source = row.text("source")};
    if (!paper.trait.empty() && !traits.contains(paper.trait)) {
      row.problem("trait", Code::kNotFound,
                  "no trait is called so" + meant(paper.trait, names_in(traits)));
    }
    if (std::ranges::count(papers, paper.paper, &MakerPaper::paper) > 0) {
      row.problem("paper", Code::kConflict, "this paper is there twice; keep one row");
    }
    if (!problems.empty()) return std::unexpected(problems.front());
    papers.push_back(std::move(paper));
  }
  if (!problems.empty()) return std::unexpected(problems.front());
  return papers;
}

Result<std::vector<MakerPaper>> load_maker_papers(const std::string& folder,
                                                  const std::map<std::string, Trait>& traits) {
  const Result<std::string> text = read_file(folder + "/" + kMakerPapers);
  if (!text) return std::unexpected(text.error());
  return read_maker_papers(*text, kMakerPapers, traits);
}

}  // namespace rollwright::trade
