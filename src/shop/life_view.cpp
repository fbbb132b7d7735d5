#include "shop/life_view.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "build/order_life.hpp"
#include "shop/spec_versions.hpp"

namespace rollwright::shop {
namespace {

SayView say_view(const build::Statement& statement, bool needed) {
  return {.key = std::string(statement.key), .ask = std::string(statement.ask),
          .as = std::string(build::word_of(statement.as)), .needed = needed,
          .photos_of = std::string(statement.photos_of)};
}

bool may_move(const build::NextMove& move, const build::LifeFacts& facts,
              const trade::Person& person) {
  const bool signs = move.to == trade::OrderState::kReady;
  if (signs && facts.worked_on_it.contains(person.name)) return false;
  const std::set<build::Hat> hats = hats_of(person, facts.electric);
  return std::ranges::any_of(move.moved_by,
                             [&hats](build::Hat hat) { return hats.contains(hat); });
}

/// The facts as they could be if everything that may be said or given with a move were.
build::LifeFacts at_best(build::LifeFacts facts) {
  for (const build::NextMove& move : build::next_moves(facts)) {
    for (const build::Statement* each : move.may_say) facts.said[std::string(each->key)] = "yes";
  }
  if (facts.state != trade::OrderState::kOffer) return facts;
  if (facts.deposit.cents == 0) facts.deposit = std::min(Money{1}, facts.price);
  if (!facts.promised || *facts.promised <= facts.today) {
    facts.promised = facts.today + std::chrono::days(1);
  }
  return facts;
}

/// What of these is missing whatever is said and given.
std::vector<std::string> missing_anyway(const build::NextMove& move,
                                        const build::LifeFacts& facts) {
  for (build::NextMove& best : build::next_moves(at_best(facts))) {
    if (best.to == move.to) return std::move(best.missing);
  }
  return move.missing;
}

std::string things(std::size_t count) {
  return count == 1 ? "1 thing is" : fmt::format("{} things are", count);
}

std::string sentence_of(const build::NextMove& move, const std::vector<std::string>& missing) {
  if (!missing.empty()) {
    return fmt::format("{} missing for {}: {}.", things(missing.size()), trade::word_of(move.to),
                       join(missing, "; "));
  }
  if (move.to_say.empty() && move.missing.empty()) return fmt::format("It can go to {}.", trade::word_of(move.to));
  return fmt::format("It can go to {} once what goes with the move is said.",
                     trade::word_of(move.to));
}

NextMoveView move_view(const build::NextMove& move, const LifeAt& at,
                       const build::LifeFacts& facts) {
  std::vector<std::string> hats;
  for (const build::Hat hat : move.moved_by) hats.emplace_back(build::word_of(hat));
  NextMoveView view{.to = std::string(trade::word_of(move.to)),
                    .is_back = move.is_back,
                    .moved_by = join(hats, " or "),
                    .missing = missing_anyway(move, facts)};
  for (const std::string& missing : move.missing) {
    if (std::ranges::find(view.missing, missing) == view.missing.end()) {
      view.to_meet.push_back(missing);
    }
  }
  view.sentence = sentence_of(move, view.missing);
  for (const trade::Person& person : at.state.held.people) {
    if (may_move(move, facts, person)) view.people.push_back({person.id.text, person.name});
  }
  for (const build::Statement* each : move.to_say) view.to_say.push_back(say_view(*each, true));
  for (const build::Statement* each : move.may_say) view.to_say.push_back(say_view(*each, false));
  return view;
}

std::vector<FlagView> flag_views(const LifeAt& at) {
  std::vector<FlagView> views;
  for (const std::string& flag : at.order.flags) {
    FlagView view{.flag = flag};
    if (flag == "Held") view.reason = at.order.held_because;
    const auto said = at.order.flags_said.find(flag);
    if (said != at.order.flags_said.end()) {
      view.reason = said->second.reason;
      view.until = said->second.until;
      view.is_due = view.until && *view.until <= at.today;
      view.who = said->second.who;
      view.day = said->second.day;
    }
    views.push_back(std::move(view));
  }
  return views;
}

std::vector<VersionView> version_views(const LifeAt& at) {
  std::vector<VersionView> views;
  const trade::SignedSpec* before = nullptr;
  for (const trade::SignedSpec* spec : versions_of(at.state, at.order.id)) {
    VersionView view{.version = spec->version, .signed_by = spec->signed_by, .who = spec->who,
                     .day = spec->day, .price_cents = spec->price.cents,
                     .changes_cents = spec->changes.cents};
    if (before != nullptr) {
      view.differences = differences(at.trade, at.state, before->lines, spec->lines);
    }
    views.insert(views.begin(), std::move(view));
    before = spec;
  }
  return views;
}

std::vector<MovedView> moved_views(const LifeAt& at) {
  std::vector<MovedView> views;
  for (const trade::OrderMoved& moved : at.state.held.rest.order_moves) {
    if (moved.order != at.order.id) continue;
    MovedView view{.number = moved.number,
                   .from = std::string(trade::word_of(moved.from)),
                   .to = std::string(trade::word_of(moved.to)),
                   .by = moved.by,
                   .day = moved.day,
                   .note = moved.note};
    for (const build::Statement& statement : build::statements()) {
      const auto said = moved.said.find(std::string(statement.key));
      if (said == moved.said.end()) continue;
      view.said.push_back({.ask = std::string(statement.ask), .said = said->second});
    }
    views.push_back(std::move(view));
  }
  std::ranges::sort(views, std::greater{}, &MovedView::number);
  return views;
}

}  // namespace

LifeView life_view(const LifeAt& at, const build::LifeFacts& facts) {
  LifeView view{.order = at.order.id.text,
                .state = std::string(trade::word_of(at.order.state)),
                .signed_version = facts.signed_version,
                .changed_since_signed = facts.changed_since_signed,
                .flags = flag_views(at),
                .all_flags = trade::all_flags(),
                .versions = version_views(at),
                .moves = moved_views(at),
                .revision = at.order.revision};
  for (const build::NextMove& move : build::next_moves(facts)) {
    view.next.push_back(move_view(move, at, facts));
  }
  view.sentence = view.next.empty() ? fmt::format("The order is {}; nothing follows.", view.state)
                                    : view.next.front().sentence;
  return view;
}

}  // namespace rollwright::shop
