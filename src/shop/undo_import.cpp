#include <algorithm>
#include <set>

#include <fmt/format.h>

#include "base/text.hpp"
#include "book/record.hpp"
#include "shop/listed.hpp"
#include "shop/recall_desk.hpp"
#include "shop/shop.hpp"

// Taking a supplier's list back: what the journal says was there before, where nobody has changed
// it since.
namespace rollwright::shop {
namespace {

/// Parts that orders, stock, purchases or deliveries name, and so must stay in the book.
std::set<trade::PartId> named_parts(const State& state) {
  std::set<trade::PartId> named;
  for (const trade::Order& order : state.held.orders) {
    for (const auto& [slot, part] : order.choices) named.insert(part);
  }
  for (const trade::Stock& stock : state.held.stock) named.insert(stock.part);
  for (const trade::PurchaseLine& line : state.held.purchases) named.insert(line.part);
  for (const trade::Receipt& receipt : state.held.receipts) named.insert(receipt.part);
  return named;
}

/// Works out what taking back comes to.
class TakingBack {
 public:
  TakingBack(const State& state, const trade::TakenList& list)
      : list_(list), named_(named_parts(state)) {
    for (const trade::Offer& offer : state.held.offers) {
      offers_[book::offer_subject(offer.supplier, offer.part)] = &offer;
    }
    for (const trade::Part& part : state.held.parts) {
      parts_[book::part_subject(part.id)] = &part;
    }
    view_.number = list.number;
  }

  Result<void> take(const std::vector<book::Entry>& entries) {
    // Offers first: whether a part may go depends on the offers that are left.
    for (const book::Entry& entry : entries) {
      if (!entry.subject.starts_with("offer ")) continue;
      if (Result<void> ok = take_offer(entry); !ok) return ok;
    }
    for (const auto& [subject, offer] : offers_) named_.insert(offer->part);
    for (const book::Entry& entry : entries) {
      if (!entry.subject.starts_with("part ")) continue;
      if (Result<void> ok = take_part(entry); !ok) return ok;
    }
    return {};
  }

  book::Change change() {
    trade::TakenList undone = list_;
    undone.undone = true;
    change_.put.taken_lists = {undone};
    return std::move(change_);
  }
  UndoView view() { return std::move(view_); }

 private:
  void leave(const std::string& subject) {
    view_.left.push_back(subject + " was changed since and stays as it is");
  }

  Result<void> take_offer(const book::Entry& entry) {
    const auto found = offers_.find(entry.subject);
    if (found == offers_.end() || book::record_of(*found->second).text != entry.after) {
      leave(entry.subject);
      return {};
    }
    const trade::Offer& held = *found->second;
    if (entry.before.empty()) {
      change_.take_away.offers.emplace_back(held.supplier, held.part);
      view_.removed.push_back(entry.subject);
      offers_.erase(found);
      return {};
    }
    Result<trade::Offer> before = book::offer_from(held.supplier, held.part, entry.before);
    if (!before) return std::unexpected(before.error());
    change_.put.offers.push_back(std::move(*before));
    view_.restored.push_back(entry.subject);
    return {};
  }

  Result<void> take_part(const book::Entry& entry) {
    const auto found = parts_.find(entry.subject);
    if (found == parts_.end() || book::record_of(*found->second).text != entry.after) {
      leave(entry.subject);
      return {};
    }
    const trade::Part& held = *found->second;
    if (!entry.before.empty()) {
      Result<trade::Part> before = book::part_from(held.id, entry.before);
      if (!before) return std::unexpected(before.error());
      change_.put.parts.push_back(std::move(*before));
      view_.restored.push_back(entry.subject);
    } else if (named_.contains(held.id)) {
      trade::Part gone = held;
      gone.gone = true;
      change_.put.parts.push_back(std::move(gone));
      view_.discontinued.push_back(entry.subject);
    } else {
      change_.take_away.parts.push_back(held.id);
      view_.removed.push_back(entry.subject);
    }
    return {};
  }

  const trade::TakenList& list_;
  std::set<trade::PartId> named_;
  std::map<std::string, const trade::Offer*> offers_;
  std::map<std::string, const trade::Part*> parts_;
  book::Change change_;
  UndoView view_;
};

/// The list with this number, or the newest that was not taken back when it is 0.
Result<const trade::TakenList*> list_to_undo(const State& state, int number) {
  const auto& lists = state.held.rest.taken_lists;
  if (number != 0) {
    const auto found = std::ranges::find(lists, number, &trade::TakenList::number);
    if (found == lists.end()) {
      return refuse(Code::kNotFound, fmt::format("no list {} was taken in", number),
                    {.field = "number", .value = std::to_string(number)});
    }
    if (found->undone) {
      return refuse(Code::kRefused, fmt::format("list {} was taken back already", number),
                    {.field = "number", .value = std::to_string(number)});
    }
    return &*found;
  }
  const auto newest = std::find_if(lists.rbegin(), lists.rend(),
                                   [](const trade::TakenList& list) { return !list.undone; });
  if (newest == lists.rend()) {
    return refuse(Code::kRefused,
                  lists.empty() ? "there is nothing to take back: no supplier's list was taken in"
                                : "there is nothing to take back: every list that was taken in "
                                  "was taken back already");
  }
  return &*newest;
}

std::string sentence_of(const UndoView& view) {
  std::string text = fmt::format("List {} is taken back: {} as before, {} removed", view.number,
                                 view.restored.size(), view.removed.size());
  if (!view.discontinued.empty()) {
    text += fmt::format(", {} discontinued because orders, stock or offers name {}",
                        view.discontinued.size(), view.discontinued.size() == 1 ? "it" : "them");
  }
  if (!view.left.empty()) {
    text += fmt::format(", {} left because {} changed since", view.left.size(),
                        view.left.size() == 1 ? "it was" : "they were");
  }
  return text + ".";
}

}  // namespace

Result<UndoView> Shop::undo_import(int number, const std::string& who) {
  const auto current = state();
  if (!current) return std::unexpected(current.error());
  const auto list = list_to_undo(**current, number);
  if (!list) return std::unexpected(list.error());
  const auto entries = book_.entries_of(std::string(kTakeInList), reason_of(**list));
  if (!entries) return std::unexpected(entries.error());
  TakingBack taking(**current, **list);
  if (Result<void> ok = taking.take(*entries); !ok) return std::unexpected(ok.error());
  book::Change change = taking.change();
  change.who = who;
  change.what = kTakeBackList;
  change.why = reason_of(**list);
  change.at = clock_.now();
  change.read_at = (*current)->entry;
  if (Result<void> ok = recalls_->keep_flags(change); !ok) return std::unexpected(ok.error());
  const auto written = book_.write(change);
  if (!written) return std::unexpected(written.error());
  if (listener_) listener_("", change.what);
  UndoView view = taking.view();
  view.sentence = sentence_of(view);
  return view;
}

}  // namespace rollwright::shop
