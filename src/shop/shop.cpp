#include "shop/shop.hpp"

#include <fmt/format.h>

#include "base/text.hpp"
#include "shop/bench_desk.hpp"
#include "shop/bike.hpp"
#include "shop/people_desk.hpp"
#include "shop/photo_desk.hpp"
#include "shop/plan_desk.hpp"
#include "shop/recall_desk.hpp"
#include "trade/load_trade.hpp"

namespace rollwright::shop {

Shop::Shop(trade::Trade trade, Terms terms, book::Book book, const Clock& clock)
    : trade_(std::move(trade)), terms_(std::move(terms.goods)),
      change_terms_(std::move(terms.changes)), service_plan_(std::move(terms.services)),
      maker_papers_(std::move(terms.maker_papers)),
      book_(std::move(book)), clock_(clock), bench_(std::make_unique<BenchDesk>(*this)),
      photos_(std::make_unique<PhotoDesk>(*this)), recalls_(std::make_unique<RecallDesk>(*this)),
      people_desk_(std::make_unique<PeopleDesk>(*this)),
      plan_desk_(std::make_unique<PlanDesk>(*this)) {}

Shop::~Shop() = default;

Result<std::unique_ptr<Shop>> Shop::open(const ShopPaths& paths, const Clock& clock, bool create) {
  trade::LoadedTrade loaded = trade::load_trade(paths.trade_folder);
  if (!loaded.problems.empty()) {
    std::vector<std::string> lines;
    for (const Error& problem : loaded.problems) lines.push_back(problem.full());
    return refuse(loaded.problems.front().code,
                  fmt::format("the trade data cannot be used; {} to mend:\n{}", lines.size(),
                              join(lines, "\n")),
                  {.file = paths.trade_folder});
  }
  Result<trade::GoodsTerms> terms = trade::load_goods_terms(paths.trade_folder);
  if (!terms) return std::unexpected(terms.error());
  Result<trade::ChangeTerms> changes = trade::load_change_terms(paths.trade_folder);
  if (!changes) return std::unexpected(changes.error());
  auto services = trade::load_service_plan(paths.trade_folder, loaded.trade);
  if (!services) return std::unexpected(services.error());
  auto papers = trade::load_maker_papers(paths.trade_folder, loaded.trade.traits);
  if (!papers) return std::unexpected(papers.error());
  Result<book::Book> book = book::Book::open(paths.book, create);
  if (!book) return std::unexpected(book.error());
  return std::unique_ptr<Shop>(new Shop(std::move(loaded.trade),
                                        {.goods = std::move(*terms),
                                         .changes = std::move(*changes),
                                         .services = std::move(*services),
                                         .maker_papers = std::move(*papers)},
                                        std::move(*book), clock));
}

Result<std::shared_ptr<const State>> Shop::state() {
  {
    const std::lock_guard lock(mutex_);
    const Result<std::int64_t> last = book_.last_entry();
    if (!last) return std::unexpected(last.error());
    if (state_ && state_->entry == *last) return state_;
  }
  // Whoever is writing here carries it over; only what is not known then is read anew.
  const std::lock_guard turn(writes_);
  const std::lock_guard lock(mutex_);
  const Result<std::int64_t> last = book_.last_entry();
  if (!last) return std::unexpected(last.error());
  if (!state_ || state_->entry != *last) {
    Result<trade::ShopFiles> held = book_.read_all();
    if (!held) return std::unexpected(held.error());
    state_ = make_state(std::move(*held), *last, terms_);
  }
  return state_;
}

Result<LocalTime> Shop::now(const State& state) const {
  return local_time(state.settings.time_zone, clock_.now());
}

Result<Shop::OrderAt> Shop::order_at(const std::string& id) {
  const auto current = state();
  if (!current) return std::unexpected(current.error());
  const auto found = (*current)->orders.find(trade::OrderId(id));
  if (found == (*current)->orders.end()) {
    return refuse(Code::kNotFound, fmt::format("there is no order {}", id),
                  {.field = "order", .value = id});
  }
  const auto build = build_of(trade_, *found->second);
  const auto time = now(**current);
  if (!build) return std::unexpected(build.error());
  if (!time) return std::unexpected(time.error());
  return OrderAt{.state = *current, .order = found->second, .build = *build, .now = *time};
}

Result<OrderView> Shop::write_order(const trade::Order& order, const std::string& who,
                                    const std::string& what, const std::string& why) {
  book::Change change{.who = who, .what = what, .why = why};
  change.put.orders = {order};
  const Result<void> written = write(std::move(change), order.id.text);
  if (!written) return std::unexpected(written.error());
  return this->order(order.id.text);
}

Result<void> Shop::write(book::Change change, const std::string& about) {
  const Result<book::Written> written = write_told(std::move(change), about);
  if (!written) return std::unexpected(written.error());
  return {};
}

Result<book::Written> Shop::write_told(book::Change change, const std::string& about) {
  change.at = clock_.now();
  if (Result<void> ok = recalls_->keep_flags(change); !ok) return std::unexpected(ok.error());
  const Result<book::Written> written = write_and_carry_over(change);
  if (!written || written->sent_before) return written;
  if (listener_) listener_(about, change.what);
  return written;
}

Result<book::Written> Shop::write_and_carry_over(const book::Change& change) {
  const std::lock_guard turn(writes_);
  Result<book::Written> written = book_.write(change);
  if (written && !written->sent_before) carry_over(change, *written);
  return written;
}

void Shop::carry_over(const book::Change& change, const book::Written& written) {
  // Only parts, orders and the plan are put over a state; after all else the book is read anew.
  trade::ShopFiles put = change.put;
  if (!put.purchases.empty() || !put.stock.empty() || !put.receipts.empty() ||
      !put.used.empty() || !put.promises.empty() || !put.people.empty() ||
      !put.signed_specs.empty() || !put.order_moves.empty() || !put.recalls.empty() ||
      !put.recall_steps.empty() || !put.maker_forms.empty() || !put.maker_lists.empty() ||
      !put.difference_answers.empty()) {
    return;
  }
  for (trade::Order& order : put.orders) {
    // The book counts revisions up, so what it holds now is asked of it.
    Result<trade::Order> held = book_.read_order(order.id);
    if (!held) return;
    order = std::move(*held);
  }
  const std::lock_guard lock(mutex_);
  // Only over the very state that the book held just before; else the next question reads it anew.
  if (!state_ || state_->entry != written.last_entry - written.things) return;
  state_ = next_state(*state_, put, written.last_entry);
}

void Shop::on_change(Listener listener) { listener_ = std::move(listener); }

Result<JournalReport> Shop::verify(const std::string& printed) {
  const Result<book::ChainReport> report = book_.verify(printed);
  if (!report) return std::unexpected(report.error());
  return JournalReport{.entries = report->entries, .whole = report->whole,
                       .sentence = report->sentence, .last_hash = report->last_hash};
}

}  // namespace rollwright::shop
