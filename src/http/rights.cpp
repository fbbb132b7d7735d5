#include "http/rights.hpp"

#include <algorithm>

#include "base/text.hpp"

namespace rollwright::http {
namespace {

constexpr Roles kOffice = kOwner | kDesk;

struct Word {
  const char* word;
  Roles role;
};
constexpr Word kWords[] = {{"owner", kOwner}, {"desk", kDesk}, {"bench", kBench}};

bool is_at(std::string_view pattern, const std::vector<std::string>& path) {
  const std::vector<std::string> pieces = split(pattern.substr(1), '/');
  return std::ranges::equal(pieces, path, [](const std::string& wanted, const std::string& piece) {
    return wanted.starts_with('{') || wanted == piece;
  });
}

}  // namespace

const std::vector<Right>& all_rights() {
  static const std::vector<Right> kRights = {
      // Getting in.
      {"GET", "/api/health", kAnyone},
      {"GET", "/api/me", kAnyone},
      {"POST", "/api/sign-in", kAnyone},
      {"POST", "/api/sign-out", kAnyone},
      {"POST", "/api/people/first", kAnyone},  // refuses itself once there is an owner
      {"GET", "/api/bench/people", kStation},
      {"POST", "/api/bench/sign-in", kStation},
      // People.
      {"GET", "/api/people", kOwner},
      {"PUT", "/api/people/{id}/password", kOwner | kSelf},
      {"PUT", "/api/people/{id}/pin", kOwner | kSelf},
      {"POST", "/api/people/{id}/take-away", kOwner},
      {"POST", "/api/stations", kOwner},
      {"POST", "/api/stations/{number}/leave", kOwner},
      // Looking.
      {"GET", "/api/shop", kEverybody},
      {"GET", "/api/today", kEverybody},
      {"GET", "/api/orders", kEverybody},
      {"GET", "/api/orders/{id}", kEverybody},
      {"GET", "/api/orders/{id}/choices/{slot}", kEverybody},
      {"GET", "/api/orders/{id}/complete", kEverybody},
      {"GET", "/api/orders/{id}/trade-offs", kEverybody},
      {"GET", "/api/orders/{id}/repairs", kEverybody},
      {"GET", "/api/orders/{id}/why-not/{slot}/{part}", kEverybody},
      {"GET", "/api/orders/{id}/promise", kEverybody},
      {"GET", "/api/orders/{id}/sooner", kEverybody},
      {"GET", "/api/orders/{id}/sheet", kEverybody},
      {"GET", "/api/orders/{id}/sheet.pdf", kEverybody},
      {"GET", "/api/orders/{id}/does", kEverybody},
      {"GET", "/api/orders/{id}/life", kEverybody},
      {"GET", "/api/orders/{id}/settlement", kEverybody},
      {"GET", "/api/care", kEverybody},
      {"GET", "/api/orders/{id}/care", kEverybody},
      {"GET", "/api/orders/{id}/maker", kEverybody},
      {"GET", "/api/orders/{id}/maker/form.pdf", kEverybody},
      {"GET", "/api/orders/{id}/maker/form.csv", kEverybody},
      {"POST", "/api/orders/{id}/change-price", kEverybody},  // reckons, writes nothing
      {"GET", "/api/orders/{id}/aids/{aid}", kEverybody},
      {"GET", "/api/bench", kEverybody},
      {"GET", "/api/bench/{id}", kEverybody},
      {"GET", "/api/bikes/{id}/history", kEverybody},
      {"GET", "/api/bikes/{id}/history.pdf", kEverybody},
      {"GET", "/api/bikes/{id}/owners-pack.pdf", kEverybody},
      {"GET", "/api/bikes/{id}/photos", kEverybody},
      {"GET", "/api/pictures/{hash}", kEverybody},  // as the histories that they stand in
      {"GET", "/api/pictures/{hash}/small", kEverybody},
      {"GET", "/api/trace", kEverybody},
      {"GET", "/api/recalls", kEverybody},
      {"GET", "/api/recalls/{id}", kEverybody},
      {"GET", "/api/recalls/{id}/list.pdf", kEverybody},
      {"GET", "/api/recalls/{id}/list.csv", kEverybody},
      {"GET", "/api/labels", kEverybody},
      {"GET", "/api/labels.pdf", kEverybody},
      {"GET", "/api/labels.svg", kEverybody},
      {"GET", "/api/questions", kEverybody},
      {"GET", "/api/facts/not-known", kEverybody},
      {"GET", "/api/plan", kEverybody},
      {"GET", "/api/plan/proposals/{id}", kEverybody},
      {"GET", "/api/load", kEverybody},
      {"GET", "/api/minutes", kEverybody},
      {"GET", "/api/kept", kEverybody},
      {"GET", "/api/people/{id}/plan.ics", kEverybody},
      {"GET", "/api/buy", kEverybody},
      {"GET", "/api/arrivals", kEverybody},
      {"GET", "/api/arrivals/{line}", kEverybody},
      {"GET", "/api/small-stock", kEverybody},
      {"GET", "/api/parts", kEverybody},
      {"GET", "/api/parts/{id}", kEverybody},
      {"GET", "/api/catalogue", kEverybody},
      {"GET", "/api/find", kEverybody},
      {"GET", "/api/aids", kEverybody},
      {"GET", "/api/aids/{id}", kEverybody},
      {"POST", "/api/aids/{id}", kEverybody},  // reckons from a file, writes nothing
      {"GET", "/api/journal/verify", kEverybody},
      {"GET", "/api/events", kEverybody},
      // Orders.
      {"POST", "/api/orders", kOffice},
      {"PUT", "/api/orders/{id}/choices/{slot}", kOffice},
      {"POST", "/api/orders/{id}/choices", kOffice},
      {"PUT", "/api/orders/{id}/budget", kOffice},
      {"PUT", "/api/orders/{id}/follow-up", kOffice},
      {"POST", "/api/orders/{id}/agree", kOffice},
      {"POST", "/api/orders/{id}/move-to", kEverybody},  // hats say who may which; a PIN fewer
      {"POST", "/api/orders/{id}/flags", kOffice},
      {"POST", "/api/orders/{id}/sign-spec", kOffice},
      {"POST", "/api/orders/{id}/change", kOffice},
      {"POST", "/api/orders/{id}/maker/form", kOffice},
      {"POST", "/api/orders/{id}/maker/lists", kEverybody},  // whoever opens the boxes; hats say who
      {"POST", "/api/orders/{id}/maker/answers", kOffice},
      {"PUT", "/api/orders/{id}/questions/{question}", kEverybody},  // many are the workshop's
      // The plan.
      {"POST", "/api/plan/proposals", kOffice},
      {"POST", "/api/plan/proposals/{id}/improve", kOffice},
      {"POST", "/api/plan/proposals/{id}/stop", kOffice},
      {"POST", "/api/plan/proposals/{id}/agree", kOffice},
      {"POST", "/api/plan/proposals/{id}/leave", kOffice},
      {"PUT", "/api/plan/settings", kOffice},
      {"POST", "/api/people/{id}/absences", kOffice | kSelf},
      // Parts and purchases.
      {"PUT", "/api/parts/{id}/facts/{attribute}", kEverybody},  // measured at the bench
      {"POST", "/api/purchases", kOffice},
      {"PUT", "/api/arrivals/{line}/mode", kOffice},
      {"PUT", "/api/arrivals/{line}/confirmed", kOffice},
      {"POST", "/api/arrivals/{line}/claims", kOffice},
      {"POST", "/api/arrivals/{line}/give-up", kOffice},
      {"POST", "/api/catalogue/propose", kOffice},
      {"POST", "/api/catalogue/preview", kOffice},
      {"POST", "/api/catalogue/import", kOffice},
      {"POST", "/api/catalogue/undo", kOffice},
      // The record of a bike, each under their own name.
      {"POST", "/api/bench/{id}/record", kOwner | kBench},
      {"POST", "/api/orders/{id}/care/visit", kEverybody},
      {"POST", "/api/orders/{id}/care/asked", kEverybody},
      {"POST", "/api/orders/{id}/care/back", kEverybody},
      {"POST", "/api/orders/{id}/care/reminded", kEverybody},
      {"POST", "/api/bikes/{id}/photos", kEverybody},  // whoever takes in a maker's boxes too
      // Recalls: a notice stops sales; who told a rider writes it down.
      {"POST", "/api/recalls", kOffice},
      {"POST", "/api/recalls/{id}/told", kEverybody},
      {"POST", "/api/recalls/{id}/close", kOffice},
      // Goods-in and the shelf.
      {"POST", "/api/arrivals/{line}/receive", kEverybody},
      {"POST", "/api/arrivals/{line}/miscounts", kEverybody},  // whoever counted counts again
      {"POST", "/api/arrivals/{line}/steps", kEverybody},
      {"POST", "/api/arrivals/{line}/photos", kEverybody},
      {"POST", "/api/arrivals/{line}/legs", kEverybody},
      {"POST", "/api/parts/{id}/used", kEverybody},
  };
  return kRights;
}

const Right* right_of(std::string_view method, const std::vector<std::string>& path) {
  if (method == "HEAD") method = "GET";
  const Right* best = nullptr;
  for (const Right& right : all_rights()) {
    if (method != right.method || !is_at(right.path, path)) continue;
    // "/api/people/first" before "/api/people/{id}": the row without a gap is meant.
    if (best == nullptr || std::string_view(right.path).find('{') == std::string_view::npos) {
      best = &right;
    }
  }
  return best;
}

Roles role_of(std::string_view word) {
  for (const Word& row : kWords) {
    if (word == row.word) return row.role;
  }
  return 0;
}

std::vector<std::string> words_of(Roles roles) {
  std::vector<std::string> words;
  for (const Word& row : kWords) {
    if ((roles & row.role) != 0) words.emplace_back(row.word);
  }
  return words;
}

}  // namespace rollwright::http
