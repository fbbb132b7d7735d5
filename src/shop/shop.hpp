#pragma once

#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

#include "base/clock.hpp"
#include "book/book.hpp"
#include "shop/state.hpp"
#include "shop/views.hpp"
#include "trade/sheet.hpp"
#include "trade/trade.hpp"

namespace rollwright::shop {

struct ShopPaths {
  std::string trade_folder;  // data/trade
  std::string book;          // the book's file
};

/// The use cases. Every edge (command line, HTTP) calls exactly one of these and prints what it
/// answers.
///
/// Invariants: only use cases write to the book; each write is one change with one reason.
/// Threads: any number; each call looks at one state of the book.
class Shop {
 public:
  /// Reads the trade, opens (or, with `create`, makes) the book. Errors: the trade's problems, all
  /// in one sentence each; those of Book::open.
  [[nodiscard]] static Result<std::unique_ptr<Shop>> open(const ShopPaths& paths,
                                                          const Clock& clock, bool create = false);

  /// Reads a shop's files and writes them, all or nothing. With `dry_run` only judges them.
  [[nodiscard]] Result<ImportReport> import(const std::string& path, const std::string& who,
                                            bool dry_run = false);

  // Orders ---------------------------------------------------------------------------------------
  [[nodiscard]] Result<std::vector<OrderLine>> orders();
  [[nodiscard]] Result<OrderView> order(const std::string& id);
  [[nodiscard]] Result<OrderView> new_order(const NewOrder& wanted, const std::string& who);
  /// Chooses a part for a slot, or empties it. `revision` is that of the order the person looked
  /// at. Errors: kConflict when the order has changed since; kRefused once it is being built.
  [[nodiscard]] Result<OrderView> choose(const std::string& id, const std::string& slot,
                                         const std::optional<std::string>& part,
                                         std::int64_t revision, const std::string& who);
  /// Several of these as one change, all or none: what completes or mends an order.
  [[nodiscard]] Result<OrderView> choose_all(
      const std::string& id, const std::map<std::string, std::optional<std::string>>& choices,
      std::int64_t revision, const std::string& who);
  /// Draft or Offer to Agreed, with the day promised and the deposit paid. Errors: kRefused naming
  /// everything that is missing: empty slots, parts that do not fit, facts without an answer.
  [[nodiscard]] Result<OrderView> agree(const std::string& id, Day promised,
                                        std::int64_t deposit_cents, std::int64_t revision,
                                        const std::string& who);

  // Spec -----------------------------------------------------------------------------------------
  [[nodiscard]] Result<SlotChoicesView> choices(const std::string& id, const std::string& slot);
  [[nodiscard]] Result<ClashView> why_not(const std::string& id, const std::string& slot,
                                          const std::string& part);

  // Promise, plan, supply ------------------------------------------------------------------------
  [[nodiscard]] Result<PromiseView> promise(const std::string& id, int draws, int threads = 2);
  [[nodiscard]] Result<PlanView> plan();
  [[nodiscard]] Result<BuyView> buy();

  // Build ----------------------------------------------------------------------------------------
  [[nodiscard]] Result<trade::Sheet> sheet(const std::string& id);
  /// The sheet as a PDF.
  [[nodiscard]] Result<std::string> sheet_pdf(const std::string& id);

  // Looking --------------------------------------------------------------------------------------
  [[nodiscard]] Result<ShopView> about();
  [[nodiscard]] Result<TodayView> today();
  [[nodiscard]] Result<PartsView> parts();
  [[nodiscard]] Result<PartView> part(const std::string& id);
  [[nodiscard]] Result<std::vector<FoundLine>> find(const std::string& words);
  [[nodiscard]] Result<JournalReport> verify();

  /// Called after each write with the order that changed (empty when it was something else) and
  /// what was done. From the thread that wrote.
  using Listener = std::function<void(const std::string& order, const std::string& what)>;
  void on_change(Listener listener);

  [[nodiscard]] const trade::Trade& trade() const { return trade_; }

 private:
  Shop(trade::Trade trade, book::Book book, const Clock& clock);

  [[nodiscard]] Result<std::shared_ptr<const State>> state();
  [[nodiscard]] Result<LocalTime> now(const State& state) const;
  /// An order and what it is looked at with: one state, its build, the time.
  struct OrderAt {
    std::shared_ptr<const State> state;
    const trade::Order* order = nullptr;
    const trade::BuildTemplate* build = nullptr;
    LocalTime now;
  };
  [[nodiscard]] Result<OrderAt> order_at(const std::string& id);
  /// Writes one order and answers with how it looks then.
  [[nodiscard]] Result<OrderView> write_order(const trade::Order& order, const std::string& who,
                                              const std::string& what, const std::string& why);

  trade::Trade trade_;
  book::Book book_;
  const Clock& clock_;
  std::mutex mutex_;
  std::shared_ptr<const State> state_;
  Listener listener_;
};

}  // namespace rollwright::shop
