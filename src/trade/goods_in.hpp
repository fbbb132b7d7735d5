#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/clock.hpp"
#include "base/result.hpp"

/// What becomes of a purchase line between the supplier's door and the shelf.
namespace rollwright::trade {

/// What can be wrong with a delivery.
enum class Trouble { kShort, kWrong, kDamageSeen, kDamageHidden, kLate };
[[nodiscard]] std::string_view word_of(Trouble trouble);
[[nodiscard]] std::optional<Trouble> trouble_named(std::string_view word);
[[nodiscard]] std::vector<std::string> all_troubles();

/// Who brings a consignment: any, parcel, road, rail, sea, air. "any" only in claim windows.
[[nodiscard]] const std::vector<std::string>& all_carriers();

/// Pieces of one purchase line at goods-in. Every piece is in one place.
///
/// Invariants (tested over random courses): no count is negative; `arrived()` never exceeds what
/// was sent for, `ordered + again`; no more is sent again than went back.
struct GoodsIn {
  int ordered = 1;      // on the purchase line, at least 1
  int again = 0;        // sent for once more, in place of what went back
  int to_look_at = 0;   // unloaded, not looked at yet
  int accepted = 0;     // good; may be put by
  int quarantined = 0;  // wrong, damaged or in doubt: labelled, not to be built in
  int sent_back = 0;
  int written_off = 0;  // never came, or scrapped with the supplier's yes: credited
  std::optional<Day> first_arrival;

  [[nodiscard]] int arrived() const {
    return to_look_at + accepted + quarantined + sent_back;
  }
  /// Pieces that are still to come.
  [[nodiscard]] int outstanding() const { return ordered + again - arrived() - written_off; }
};

/// Where pieces with a number are.
enum class PlaceOfPiece { kInStore, kQuarantined, kSentBack };
[[nodiscard]] std::string_view word_of(PlaceOfPiece place);
[[nodiscard]] std::optional<PlaceOfPiece> place_named(std::string_view word);

/// The number on a piece, or the lot of some.
struct Marked {
  std::string serial;  // of one piece; empty where the kind has none
  std::string lot;     // may be empty when there is a serial
  int pieces = 1;
  PlaceOfPiece place = PlaceOfPiece::kInStore;
  Day day = {};
};

/// A leg of the road that is behind the goods. The first is getting ready at the supplier.
struct LegDone {
  std::string leg;
  Day day = {};
};

/// What a supplier or carrier was, or is to be, told.
struct Claim {
  Trouble trouble = Trouble::kWrong;
  int pieces = 1;
  std::string carrier;  // who brought it
  Day found = {};
  Day tell_by = {};     // last day on which it can be claimed, as reckoned when it was found
  std::string terms;    // where these days come from
  std::optional<Day> told;
  std::optional<Day> settled;
  std::string outcome;  // when settled: credited, sent again, refused or withdrawn
  std::string note;
};

/// How long one leg of a road by freight takes; data/trade/freight_legs.csv (docs/formats.md).
struct FreightLeg {
  std::string name;   // "sea in a shared container"
  double low = 0;     // calendar days; one in ten takes less, 0.5 to 365
  double high = 0;    // one in ten takes more, above low, to 365
  std::string source;
};
/// Errors: kBadInput with file, line and field for what is not as the format says; kConflict for a
/// leg that is there twice.
[[nodiscard]] Result<std::vector<FreightLeg>> read_freight_legs(std::string_view csv,
                                                                std::string file);

/// Days within which somebody has to be told; data/trade/claim_windows.csv (docs/formats.md).
struct ClaimWindow {
  Trouble trouble = Trouble::kShort;
  std::string carrier;  // any, parcel, road, rail, sea, air
  int days = 0;         // calendar days after goods-in, 0 to 365
  std::string source;
};
/// Errors: kBadInput with file, line, field for what is not as the format says.
[[nodiscard]] Result<std::vector<ClaimWindow>> read_claim_windows(std::string_view csv,
                                                                  std::string file);

/// What the trade folder says of freight and claims.
struct GoodsTerms {
  std::vector<FreightLeg> freight_legs;
  std::vector<ClaimWindow> claim_windows;
};
/// Reads freight_legs.csv and claim_windows.csv of data/trade. Errors: those of the two, and of
/// read_file.
[[nodiscard]] Result<GoodsTerms> load_goods_terms(const std::string& folder);

}  // namespace rollwright::trade
