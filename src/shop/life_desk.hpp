#pragma once

#include <memory>
#include <set>
#include <string>

#include "base/result.hpp"
#include "shop/life_facts.hpp"
#include "shop/life_views.hpp"
#include "shop/spec_change.hpp"
#include "shop/spec_versions.hpp"

namespace rollwright::book {
struct Change;
}

namespace rollwright::shop {

struct BenchRecord;
class Shop;

/// The use cases of an order's life: what is next and what is missing, moving it on, flags, signing
/// its specification.
///
/// Invariants: a move is written together with what was said with it, and with what it does to shelf
///             and purchases, or not at all; nothing moves that build::judge_move refuses.
/// Threads: any number; holds nothing but the shop.
class LifeDesk {
 public:
  explicit LifeDesk(Shop& shop) : shop_(shop) {}

  /// Errors: kNotFound.
  [[nodiscard]] Result<LifeView> look(const std::string& order);

  /// Moves an order on. Errors: kNotFound for order or person; kBadInput for another state or what is
  /// said wrongly; kRefused with everything that is missing; kConflict.
  [[nodiscard]] Result<LifeView> move(const std::string& order, const MoveGiven& given,
                                      const std::string& who);

  /// Sets or clears a flag. Errors: those of build::with_flag; kNotFound for the person; kConflict.
  [[nodiscard]] Result<LifeView> flag(const std::string& order, const FlagChange& given,
                                      const std::string& who);

  /// Writes the next version of the specification as chosen, signed by the customer; a change that was
  /// open is not any more. Errors: kRefused before Offer or once the order is over, when slots are
  /// empty, parts do not fit, or nothing changed since the last version; kConflict when the price is
  /// not the one that was shown, or somebody was faster; kBadInput without a name.
  [[nodiscard]] Result<LifeView> sign(const std::string& order, const SignGiven& given,
                                      const std::string& who);

  /// What a change of a signed specification would cost, parts, restocking, freight, labour and checks
  /// by where each part stands; without choices, of what is changed and not signed yet. Nothing is
  /// written. Errors: kNotFound and kContradiction for slots and parts that do not belong; those of
  /// build::price_of_change.
  [[nodiscard]] Result<ChangePriceView> price_of_change(
      const std::string& order,
      const std::map<std::string, std::optional<std::string>>& choices);

  /// Makes the change: the specification has to be signed again before the order goes on. Errors: as
  /// above; kRefused before Agreed (choose then), once the order is over, and when the bike would not
  /// fit; kConflict when the price is not the one that was shown, or somebody was faster.
  [[nodiscard]] Result<LifeView> change(const std::string& order, const ChangeGiven& given,
                                        const std::string& who);

  /// What is paid back if the order is cancelled now. Errors: kNotFound; kRefused when it is over;
  /// those of build::settlement_of.
  [[nodiscard]] Result<SettlementView> settlement(const std::string& order);

 private:
  /// One state, the order in it, and what decides about it.
  struct Looked {
    std::shared_ptr<const State> state;
    const trade::BuildTemplate* build = nullptr;
    trade::Order order;
    std::shared_ptr<const BenchRecord> record;
    LocalTime now;
  };
  [[nodiscard]] Result<Looked> looked(const std::string& order);
  [[nodiscard]] LifeAt at(const Looked& looked) const;
  /// Writes into the bike's record that operations are to be done again; those that are done then.
  /// Errors: those of build::judge.
  [[nodiscard]] Result<std::set<std::string>> redo(const Looked& looked,
                                                   const trade::Person& person,
                                                   const MoveGiven& given,
                                                   book::Change& change) const;
  [[nodiscard]] ChangeAt change_at(const Looked& looked) const;
  /// The order with these choices. Errors: those of `price_of_change`.
  [[nodiscard]] Result<trade::Order> changed(
      const Looked& looked,
      const std::map<std::string, std::optional<std::string>>& choices) const;
  [[nodiscard]] Result<build::ChangePrice> priced(const Looked& looked,
                                                  const trade::Order& changed) const;
  [[nodiscard]] build::LifeFacts facts(const Looked& looked) const;
  /// What would be signed now; what changes since the last version cost beside the parts is part of
  /// its price. Errors: those of build::price_of_change.
  [[nodiscard]] Result<trade::SignedSpec> version_to_sign(const Looked& looked,
                                                          const Signature& signature) const;
  [[nodiscard]] Result<const trade::Person*> mover(const Looked& looked,
                                                   const std::string& by) const;
  [[nodiscard]] Result<LifeView> written(book::Change change, const std::string& order,
                                         std::vector<std::string> told);

  Shop& shop_;
};

}  // namespace rollwright::shop
