#pragma once

#include <string>
#include <vector>

#include "base/result.hpp"
#include "shop/bench_desk.hpp"
#include "shop/care_due.hpp"
#include "shop/care_views.hpp"

namespace rollwright::shop {

class Shop;

/// The use cases of bikes that come back: what they come for, what is asked for, and giving them back.
///
/// Invariants: a visit is lines of the bike's record, written by the rules of the stand; the order that
///             built the bike is not opened again.
/// Threads: any number; holds nothing but the shop.
class CareDesk {
 public:
  explicit CareDesk(Shop& shop) : shop_(shop) {}

  /// Bikes that are here, and those that should come near today.
  [[nodiscard]] Result<ComingBackView> coming_back();

  /// Errors: kNotFound; kRefused for a bike that was not handed over.
  [[nodiscard]] Result<CareView> look(const std::string& order);

  /// Writes down that the bike is here, and what it is here for. Errors: those of look; kBadInput when
  /// nothing is named; kNotFound for an operation that is not of this bike; those of build::judge.
  [[nodiscard]] Result<CareView> open(const std::string& order, const VisitGiven& given);
  [[nodiscard]] Result<CareView> ask(const std::string& order, const AskedGiven& given);
  [[nodiscard]] Result<CareView> give_back(const std::string& order, const BackGiven& given);

  /// Writes down that the rider was told. Errors: those of look; kBadInput when nothing is due and nothing
  /// is named; those of build::judge.
  [[nodiscard]] Result<CareView> remind(const std::string& order, const RemindedGiven& given);

 private:
  [[nodiscard]] Result<BenchDesk::At> at(const std::string& order);
  [[nodiscard]] std::optional<CareDue> due(const BenchDesk::At& at,
                                           const std::vector<trade::BikeLine>& lines);
  [[nodiscard]] Result<std::vector<CareOffer>> offers(const BenchDesk::At& at,
                                                      const std::vector<trade::BikeLine>& lines);
  [[nodiscard]] Result<CareView> written(const std::string& order, DeedsGiven deeds);

  Shop& shop_;
};

}  // namespace rollwright::shop
