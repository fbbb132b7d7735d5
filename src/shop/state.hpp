#pragma once

#include <functional>
#include <iterator>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "base/clock.hpp"
#include "shop/ride.hpp"
#include "trade/shop_files.hpp"

namespace rollwright::supply {
class LeadTimes;
}

namespace rollwright::shop {

/// What was worked out of orders in the book, once for each version of an order; kept for ten thousand.
///
/// Threads: any; two may work out the same at once.
template <class Answer>
class OnceByOrder {
 public:
  template <class Work>
  Answer once(const trade::Order& held, const Work& work) const {
    constexpr std::size_t kMostKept = 10'000;
    const std::pair key(held.id, held.revision);
    {
      const std::lock_guard lock(mutex_);
      if (const auto found = answers_.find(key); found != answers_.end()) return found->second;
    }
    Answer answer = work();
    const std::lock_guard lock(mutex_);
    if (answers_.size() >= kMostKept) answers_.clear();
    return answers_[key] = std::move(answer);
  }

 private:
  mutable std::mutex mutex_;
  mutable std::map<std::pair<trade::OrderId, std::int64_t>, Answer> answers_;  // by revision
};

/// The parts with their index; never changes once made.
struct Catalogue {
  explicit Catalogue(std::vector<trade::Part> list);
  Catalogue(const Catalogue&) = delete;  // the index points into the list
  Catalogue& operator=(const Catalogue&) = delete;

  const std::vector<trade::Part> parts;  // by id
  std::map<trade::PartId, const trade::Part*> by_id;

  // With these parts, of orders in the book:
  const OnceByOrder<double> minutes;  // hands-on
  const OnceByOrder<std::shared_ptr<const std::set<std::string>>> traits;
};

/// Orders by their number, with their index. Copying shares both; reading gives `const trade::Order&`.
class Orders {
 public:
  using List = std::vector<std::shared_ptr<const trade::Order>>;
  class Iterator {
   public:
    using iterator_category = std::forward_iterator_tag;
    using value_type = trade::Order;
    using difference_type = std::ptrdiff_t;
    using pointer = const trade::Order*;
    using reference = const trade::Order&;

    Iterator() = default;
    explicit Iterator(List::const_iterator at) : at_(at) {}
    reference operator*() const { return **at_; }
    pointer operator->() const { return at_->get(); }
    Iterator& operator++() {
      ++at_;
      return *this;
    }
    Iterator operator++(int) { return Iterator(at_++); }
    friend bool operator==(const Iterator&, const Iterator&) = default;

   private:
    List::const_iterator at_;
  };

  explicit Orders(std::vector<trade::Order> list);
  /// These orders, with the given one in its place.
  [[nodiscard]] Orders with(const trade::Order& order) const;

  using ById = std::map<trade::OrderId, const trade::Order*>;

  [[nodiscard]] Iterator begin() const { return Iterator(kept_->list.begin()); }
  [[nodiscard]] Iterator end() const { return Iterator(kept_->list.end()); }
  [[nodiscard]] std::size_t size() const { return kept_->list.size(); }
  [[nodiscard]] const ById& by_id() const { return kept_->by_id; }
  /// Whether one is a copy of the other: nothing about the orders changed from one to the other.
  [[nodiscard]] bool same_as(const Orders& other) const { return kept_ == other.kept_; }

 private:
  struct Kept {
    explicit Kept(List sorted);
    const List list;
    ById by_id;
  };

  explicit Orders(List list) : kept_(std::make_shared<const Kept>(std::move(list))) {}

  std::shared_ptr<const Kept> kept_;
};

/// Everything in the book that is neither a part, an order nor the plan.
struct AllElse {
  explicit AllElse(trade::ShopFiles held, trade::GoodsTerms goods_terms = {});
  /// The same receipts and offers as `before`, so what was learned from them is shared.
  AllElse(trade::ShopFiles held, const AllElse& before);
  AllElse(const AllElse&) = delete;  // the indices point into the lists
  AllElse& operator=(const AllElse&) = delete;

  const trade::GoodsTerms terms;  // of the trade folder
  const trade::ShopFiles files;  // without parts, orders and the plan: those have their own places
  std::map<trade::PartId, const trade::Stock*> stock;
  std::map<trade::SupplierId, const trade::Supplier*> suppliers;
  /// The route's file, read once, when it is first asked for; empty when there is no such route or
  /// it cannot be read.
  [[nodiscard]] std::optional<RouteLooked> route(const std::string& name) const;
  /// What the route asks of a bike; empty when that is not known.
  [[nodiscard]] std::optional<trade::RideFacts> ride(const std::string& route) const;

  /// What was learned from the receipts and offers here: `learn` is asked once for each grouping of
  /// the parts. Others wait meanwhile rather than learn the same.
  using GroupOf = std::map<trade::PartId, std::string>;
  using Learned = std::shared_ptr<const supply::LeadTimes>;
  [[nodiscard]] Learned learned_once(const GroupOf& group_of,
                                     const std::function<Learned()>& learn) const;

 private:
  mutable std::mutex learning_;
  mutable GroupOf learned_for_;
  mutable Learned learned_;
  mutable std::mutex mutex_;
  mutable std::map<std::string, std::optional<RouteLooked>> routes_;
};

/// How long operations took; never changes once made.
struct Times {
  explicit Times(std::vector<trade::TimeTaken> list);

  const std::vector<trade::TimeTaken> taken;
  std::map<std::string, std::vector<double>> minutes;  // newest last, by operation
};

/// The plan that was agreed, and how the shop plans.
struct Agreed {
  std::optional<trade::AgreedPlan> plan;  // none before the first
  std::map<trade::OrderId, trade::OrderPlan> work;
  trade::PlanSettings settings;
};

/// The book's lists, for reading; they belong to the state.
struct Held {
  const std::vector<trade::Part>& parts;
  const Orders& orders;
  const trade::ShopFiles& rest;
  const std::vector<trade::ShopSettings>& settings = rest.settings;
  const std::vector<trade::Area>& areas = rest.areas;
  const std::vector<trade::Person>& people = rest.people;
  const std::vector<trade::Supplier>& suppliers = rest.suppliers;
  const std::vector<trade::Offer>& offers = rest.offers;
  const std::vector<trade::Stock>& stock = rest.stock;
  const std::vector<trade::PurchaseLine>& purchases = rest.purchases;
  const std::vector<trade::Receipt>& receipts = rest.receipts;
  const std::vector<trade::PromiseSaid>& promises = rest.promises;
  const std::vector<trade::Tool>& tools = rest.tools;
  const std::map<std::string, std::string>& routes = rest.routes;
  const std::map<std::string, std::string>& mappings = rest.mappings;
  const std::vector<trade::TakenList>& taken_lists = rest.taken_lists;
  const std::vector<trade::Recall>& recalls = rest.recalls;
  const std::vector<trade::RecallStep>& recall_steps = rest.recall_steps;
};

/// Everything the book held at one moment, with indices. Immutable: use cases look at one state
/// from beginning to end, whatever others write meanwhile. What a change left alone is shared with
/// the state before it.
struct State {
  State(std::int64_t entry, std::shared_ptr<const Catalogue> catalogue, Orders orders,
        std::shared_ptr<const AllElse> all_else, std::shared_ptr<const Agreed> agreed,
        std::shared_ptr<const Times> times);
  State(const State&) = delete;  // the indices point into the state
  State& operator=(const State&) = delete;

  [[nodiscard]] const trade::Part* part(const trade::PartId& id) const;
  /// Its name; its number where the catalogue does not know it (any more).
  [[nodiscard]] std::string name_of(const trade::PartId& id) const;
  /// Its name; the id itself when nobody of the shop is called so ("desk").
  [[nodiscard]] std::string name_of(const trade::PersonId& id) const;

  const std::int64_t entry;  // of the journal, when it was read
  const std::shared_ptr<const Catalogue> catalogue;
  const Orders in_order;
  const std::shared_ptr<const AllElse> all_else;
  const std::shared_ptr<const Agreed> agreed;
  const std::shared_ptr<const Times> times;
  const Held held;
  const trade::ShopSettings settings;
  const std::map<trade::PartId, const trade::Part*>& parts;
  const std::map<trade::PartId, const trade::Stock*>& stock;
  const std::map<trade::SupplierId, const trade::Supplier*>& suppliers;
  const Orders::ById& orders;
};

[[nodiscard]] std::shared_ptr<const State> make_state(trade::ShopFiles held, std::int64_t entry,
                                                      trade::GoodsTerms terms = {});

/// The state after the parts, the orders (each as it stands in the book now), the times taken and the
/// plan of `put` were put over those of `before`: the same as reading the book anew, without reading it.
[[nodiscard]] std::shared_ptr<const State> next_state(const State& before,
                                                      const trade::ShopFiles& put,
                                                      std::int64_t entry);

/// What a book would hold if something were so that is not: never written anywhere.
struct Supposed {
  std::vector<trade::Stock> stock;
  std::vector<trade::PurchaseLine> purchases;
  std::vector<trade::Order> orders;  // in place of those of the same number
};
[[nodiscard]] std::shared_ptr<const State> state_supposing(const State& before,
                                                           const Supposed& supposed);

/// Wall clock of the shop's time zone: the day, and the minute of it.
struct LocalTime {
  Day day = {};
  int minute = 0;
  friend bool operator==(const LocalTime&, const LocalTime&) = default;
};
/// Errors: kBadInput for a time zone that the system does not know.
[[nodiscard]] Result<LocalTime> local_time(const std::string& time_zone, Instant instant);

/// The moment of a minute of the shop's wall clock. Where the clock is put forward over it, the moment
/// of the change; where it is put back, the first of the two. Errors: as local_time.
[[nodiscard]] Result<Instant> instant_of(const std::string& time_zone, const LocalTime& time);

/// The person of this id or name. Errors: kNotFound naming the field, with who may be meant.
[[nodiscard]] Result<const trade::Person*> person_called(const State& state,
                                                         const std::string& called,
                                                         const char* field);

/// "2026-11-25T08:30" for a minute counted from 00:00 of the day.
[[nodiscard]] std::string local_text(Day first, int minute);

}  // namespace rollwright::shop
