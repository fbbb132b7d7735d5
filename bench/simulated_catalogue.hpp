#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "base/random.hpp"
#include "base/result.hpp"
#include "plan/workshop.hpp"
#include "trade/shop_files.hpp"
#include "trade/trade.hpp"

namespace rollwright::bench {

/// One operation of a design, with the steps of the same design that come before it.
struct DesignStep {
  const trade::Operation* operation = nullptr;
  std::vector<int> after;
  std::vector<int> not_by_doer_of;  // second person
  std::vector<int> checked_by;      // steps whose second person may not have done this one
  plan::SkillSet skill = 0;         // trade::skill_bit
  bool asks_for_kit = false;        // all parts without which the build cannot start
  bool asks_for_all = false;        // those that may follow, too
};

/// A part that a bike waits for.
struct WantedPart {
  trade::PartId part;
  int quantity = 1;
  bool may_follow = false;
};

/// What a bike of one build takes: work and parts of one invented order of the demo.
struct Design {
  std::string build;
  std::vector<DesignStep> steps;  // in a working order; the handover is left out
  std::vector<WantedPart> parts;
};

/// What there is to build and to buy: trade data, and the invented people, suppliers and parts of
/// the demo. Of how long anything takes it knows nothing.
struct Catalogue {
  trade::Trade trade;
  trade::ShopFiles files;
  std::vector<Design> designs;
  std::map<trade::PartId, std::string> group_of;                // of lead times
  std::map<trade::PartId, std::vector<const trade::Offer*>> offers;
  std::map<std::string, std::vector<trade::PartId>> alike;      // by kind: what is sold of it

  /// The parts of one order: each second one is another part of the same kind. Whether they would
  /// fit does not matter here, only who sells them.
  [[nodiscard]] std::vector<WantedPart> varied(const Design& design, Random& random) const;
  [[nodiscard]] const std::string& kind_of(const trade::PartId& part) const;

 private:
  friend Result<Catalogue> read_catalogue(const std::string& root);
  std::map<trade::PartId, std::string> kinds_;
};

/// `root` holds data/trade and data/demo. Errors: the first problem of the files.
[[nodiscard]] Result<Catalogue> read_catalogue(const std::string& root);

}  // namespace rollwright::bench
