#include "trade/goods_in.hpp"

#include <algorithm>

#include "base/csv.hpp"
#include "base/text.hpp"

namespace rollwright::trade {
namespace {

struct TroubleRow {
  Trouble trouble;
  std::string_view word;
};
constexpr TroubleRow kTroubles[] = {{Trouble::kShort, "short"},
                                    {Trouble::kWrong, "wrong"},
                                    {Trouble::kDamageSeen, "damage seen"},
                                    {Trouble::kDamageHidden, "damage hidden"},
                                    {Trouble::kLate, "late"}};

struct PlaceRow {
  PlaceOfPiece place;
  std::string_view word;
};
constexpr PlaceRow kPlaces[] = {{PlaceOfPiece::kInStore, "in store"},
                                {PlaceOfPiece::kQuarantined, "quarantined"},
                                {PlaceOfPiece::kSentBack, "sent back"}};

/// One row of a file of goods-in, cell by cell.
class GoodsRow {
 public:
  GoodsRow(const Csv& csv, const CsvRow& row) : csv_(csv), row_(row) {}

  [[nodiscard]] const std::string& cell(std::string_view heading) const {
    return row_.cells[static_cast<std::size_t>(csv_.column(heading))];
  }
  [[nodiscard]] std::unexpected<Error> wrong(std::string_view field, std::string sentence,
                                             Code code = Code::kBadInput) const {
    return refuse(code, std::move(sentence),
                  {.file = csv_.file, .line = row_.line, .field = std::string(field),
                   .value = cell(field)});
  }

 private:
  const Csv& csv_;
  const CsvRow& row_;
};

Result<FreightLeg> leg_of(const GoodsRow& row) {
  const std::optional<double> low = to_number(row.cell("low"));
  const std::optional<double> high = to_number(row.cell("high"));
  if (row.cell("leg").empty()) return row.wrong("leg", "this leg has no name");
  if (!low || !(0.5 <= *low && *low <= 365)) {
    return row.wrong("low", "this is a number of calendar days from 0.5 to 365");
  }
  if (!high || !(*low < *high && *high <= 365)) {
    return row.wrong("high", "this is a number of calendar days above low, up to 365");
  }
  if (row.cell("source").empty()) return row.wrong("source", "say where it comes from");
  return FreightLeg{.name = row.cell("leg"), .low = *low, .high = *high,
                    .source = row.cell("source")};
}

Result<ClaimWindow> window_of(const GoodsRow& row) {
  const std::optional<Trouble> trouble = trouble_named(row.cell("trouble"));
  if (!trouble) {
    return row.wrong("trouble", "this is short, wrong, damage seen, damage hidden or late");
  }
  if (std::ranges::count(all_carriers(), row.cell("carrier")) == 0) {
    return row.wrong("carrier", "this is any, parcel, road, rail, sea or air");
  }
  const std::optional<double> days = to_number(row.cell("days"));
  if (!days || !(0 <= *days && *days <= 365) || *days != static_cast<int>(*days)) {
    return row.wrong("days", "this is a whole number of days from 0 to 365");
  }
  if (row.cell("source").empty()) return row.wrong("source", "say where these days come from");
  return ClaimWindow{.trouble = *trouble, .carrier = row.cell("carrier"),
                     .days = static_cast<int>(*days), .source = row.cell("source")};
}

/// A file whose columns are in order. Errors: kBadInput naming the column that is missing.
Result<Csv> with_columns(std::string_view text, std::string file,
                         std::initializer_list<std::string_view> headings) {
  Result<Csv> read = parse_csv(text, std::move(file));
  if (!read) return read;
  for (const std::string_view heading : headings) {
    if (read->column(heading) >= 0) continue;
    return refuse(Code::kBadInput, "this column is missing",
                  {.file = read->file, .field = std::string(heading)});
  }
  return read;
}

}  // namespace

std::string_view word_of(Trouble trouble) {
  for (const TroubleRow& row : kTroubles) {
    if (row.trouble == trouble) return row.word;
  }
  broken_promise("every trouble has a word", __FILE__, __LINE__);
}

std::optional<Trouble> trouble_named(std::string_view word) {
  for (const TroubleRow& row : kTroubles) {
    if (row.word == word) return row.trouble;
  }
  return std::nullopt;
}

std::vector<std::string> all_troubles() {
  std::vector<std::string> words;
  for (const TroubleRow& row : kTroubles) words.emplace_back(row.word);
  return words;
}

const std::vector<std::string>& all_carriers() {
  static const std::vector<std::string> kCarriers = {"any",  "parcel", "road",
                                                     "rail", "sea",    "air"};
  return kCarriers;
}

std::string_view word_of(PlaceOfPiece place) {
  for (const PlaceRow& row : kPlaces) {
    if (row.place == place) return row.word;
  }
  broken_promise("every place of a piece has a word", __FILE__, __LINE__);
}

std::optional<PlaceOfPiece> place_named(std::string_view word) {
  for (const PlaceRow& row : kPlaces) {
    if (row.word == word) return row.place;
  }
  return std::nullopt;
}

Result<std::vector<FreightLeg>> read_freight_legs(std::string_view csv, std::string file) {
  const Result<Csv> read =
      with_columns(csv, std::move(file), {"leg", "low", "high", "source"});
  if (!read) return std::unexpected(read.error());
  std::vector<FreightLeg> legs;
  for (const CsvRow& row : read->rows) {
    Result<FreightLeg> leg = leg_of(GoodsRow(*read, row));
    if (!leg) return std::unexpected(leg.error());
    if (std::ranges::find(legs, leg->name, &FreightLeg::name) != legs.end()) {
      return GoodsRow(*read, row).wrong("leg", "this leg is there twice; keep one row",
                                        Code::kConflict);
    }
    legs.push_back(std::move(*leg));
  }
  return legs;
}

Result<std::vector<ClaimWindow>> read_claim_windows(std::string_view csv, std::string file) {
  const Result<Csv> read =
      with_columns(csv, std::move(file), {"trouble", "carrier", "days", "source"});
  if (!read) return std::unexpected(read.error());
  std::vector<ClaimWindow> windows;
  for (const CsvRow& row : read->rows) {
    Result<ClaimWindow> window = window_of(GoodsRow(*read, row));
    if (!window) return std::unexpected(window.error());
    windows.push_back(std::move(*window));
  }
  return windows;
}

Result<GoodsTerms> load_goods_terms(const std::string& folder) {
  const Result<std::string> legs = read_file(folder + "/freight_legs.csv");
  const Result<std::string> windows = read_file(folder + "/claim_windows.csv");
  if (!legs) return std::unexpected(legs.error());
  if (!windows) return std::unexpected(windows.error());
  auto read_legs = read_freight_legs(*legs, "freight_legs.csv");
  auto read_windows = read_claim_windows(*windows, "claim_windows.csv");
  if (!read_legs) return std::unexpected(read_legs.error());
  if (!read_windows) return std::unexpected(read_windows.error());
  return GoodsTerms{.freight_legs = std::move(*read_legs),
                    .claim_windows = std::move(*read_windows)};
}

}  // namespace rollwright::trade
