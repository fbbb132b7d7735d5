#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/clock.hpp"

/// What the pages of parts answer: lines of the catalogue, facts, offers and purchases of one part.
///
/// Everything is ready to be shown, as in all *_views.hpp: plain text, whole cents, kilograms, ISO
/// days. The JSON of the command line's --json and of the HTTP API has the same names
/// (web/openapi.yaml).
namespace rollwright::shop {

struct PartLine {
  std::string id;
  std::string name;
  std::string maker;
  std::string kind;
  std::int64_t price_cents = 0;
  std::optional<double> mass_kg;  // empty: not known
};

struct PartRow {
  PartLine part;
  std::string kind_name;
  int on_shelf = 0;
  int put_by = 0;
  int under_way = 0;
  int known = 0;
  int measured = 0;
  int not_known = 0;
  bool gone = false;
};
struct FactView {
  std::string attribute;
  std::string name;
  std::string value;     // empty when not known
  std::string us;
  std::string standing;
  std::string source;
  std::string by;
  std::optional<Day> date;
  std::string help;
  std::string unit;                // that a bare number is taken in; empty for counts and words
  std::string type;                // flag, number, word, words
  std::vector<std::string> words;  // that it can be; empty: any
  bool decisive = false;
};
struct OfferView {
  std::string supplier;
  std::string article;
  std::vector<std::string> prices;  // "from 10: 4.20"
  std::string availability;
  double lead_days_50 = 0;
  double lead_days_90 = 0;
  std::string basis;
};
struct PurchaseView {
  std::string id;
  std::string supplier;
  std::string part;
  std::string name;
  int quantity = 0;
  std::string order;
  Day placed = {};
  std::optional<Day> confirmed;
  std::string state;
};
struct PartView {
  PartRow row;
  std::vector<FactView> facts;
  std::vector<OfferView> offers;
  std::vector<PurchaseView> purchases;
  std::vector<std::string> orders;
};
struct PartsView {
  std::vector<PartRow> parts;
  std::vector<PurchaseView> purchases;  // under way, all parts
};

}  // namespace rollwright::shop
