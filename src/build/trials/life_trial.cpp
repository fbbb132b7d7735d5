#include "build/trials/life_trial.hpp"

#include <fmt/format.h>

#include "build/order_life.hpp"
#include "build/trials/life_opinion.hpp"

namespace rollwright::build::testing {
namespace {

class Trial {
 public:
  LifeTrial run() {
    for (const trade::OrderState from : trade::all_states()) {
      for (const bool maker_built : {false, true}) {
        for (const bool by_freight : {false, true}) {
          for (const bool electric : {false, true}) {
            bike_ = {.state = from, .maker_built = maker_built, .by_freight = by_freight,
                     .electric = electric};
            for (const trade::OrderState to : trade::all_states()) one_move(to);
          }
        }
      }
    }
    return std::move(told_);
  }

 private:
  void one_move(trade::OrderState to) {
    to_ = to;
    row_ = opinion_on(bike_, std::string(trade::word_of(to)));
    right_ = facts_in_order(bike_, row_);
    compare(right_, row_ != nullptr, "everything in order");
    for (const Spoiler& spoiler : spoilers()) {
      LifeFacts facts = right_;
      spoiler.spoil(facts);
      compare(facts, row_ != nullptr && !stops(spoiler), spoiler.name);
    }
    by_each_hat();
    if (row_ == nullptr) return;
    pairs();
    statements_wrong();
  }

  [[nodiscard]] bool stops(const Spoiler& spoiler) const {
    return row_->stopped_by.contains(spoiler.name);
  }

  void by_each_hat() {
    for (const Hat hat : right_.hats) {
      LifeFacts facts = right_;
      facts.hats = {hat};
      compare(facts, row_ != nullptr && row_->who.contains(hat_name(hat)), "as " + hat_name(hat));
    }
    LifeFacts nobody = right_;
    nobody.hats.clear();
    compare(nobody, false, "as nobody");
  }

  void pairs() {
    for (std::size_t i = 0; i < spoilers().size(); ++i) {
      for (std::size_t j = i + 1; j < spoilers().size(); ++j) {
        const Spoiler& one = spoilers()[i];
        const Spoiler& other = spoilers()[j];
        if (undoes(one.name, other.name)) continue;
        LifeFacts facts = right_;
        one.spoil(facts);
        other.spoil(facts);
        compare(facts, !stops(one) && !stops(other), one.name + " and " + other.name);
      }
    }
  }

  /// The second puts a right value, for this purpose, in place of the first's wrong one.
  static bool undoes(const std::string& one, const std::string& other) {
    return (one == "stop unknown" && other == "fit unknown") ||
           (one == "own work" && other == "work unknown") ||
           (one.starts_with("budget ") && other == "budget written");
  }

  void statements_wrong() {
    for (const auto& [key, text] : right_.said) {
      LifeFacts facts = right_;
      facts.said.erase(key);
      compare(facts, false, "without " + key);
      facts.said[key] = "  ";
      compare(facts, false, "with an empty " + key);
    }
    for (const OpinionRow& other : opinion()) {
      for (const std::string& key : other.says) {
        const bool asked = row_->says.contains(key) &&
                           (!key.ends_with('*') || bike_.electric);
        if (asked) continue;
        const std::string plain = key.ends_with('*') ? key.substr(0, key.size() - 1) : key;
        LifeFacts facts = right_;
        facts.said[plain] = "yes";
        compare(facts, false, "with " + plain + " too many");
      }
    }
  }

  void compare(const LifeFacts& facts, bool expected, const std::string& what) {
    ++told_.tried;
    const Result<void> judged = judge_move(facts, to_);
    if (judged.has_value() == expected) return;
    const std::string line = fmt::format(
        "{} to {}, {}{}{}, {}{}", trade::word_of(bike_.state), trade::word_of(to_),
        bike_.maker_built ? "maker-built" : "shop-built", bike_.by_freight ? ", by freight" : "",
        bike_.electric ? ", electric" : "", what,
        judged ? std::string() : ": " + judged.error().sentence);
    (expected ? told_.wrongly_refused : told_.wrongly_allowed).push_back(line);
  }

  LifeTrial told_;
  LifeFacts bike_;
  LifeFacts right_;
  const OpinionRow* row_ = nullptr;
  trade::OrderState to_ = trade::OrderState::kDraft;
};

}  // namespace

LifeTrial try_all_moves() { return Trial().run(); }

}  // namespace rollwright::build::testing
