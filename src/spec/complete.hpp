#pragma once

#include <vector>

#include "spec/bests.hpp"
#include "spec/choices.hpp"

namespace rollwright::spec {

/// A whole bike. Every slot of the build is decided; those left empty have an empty part id.
struct Completion {
  Selection parts;
  trade::Verdict verdict = trade::Verdict::kFits;  // worst over all rules; kNotKnown at most
  Money price;
  Mass mass;                 // of the parts whose mass is known
  int masses_not_known = 0;  // pieces
  std::optional<Day> ready;  // empty: some part cannot be had
  bool proven = true;        // false: the budget ended before it was shown to be the best
};

/// What the best bike is best in. `kWeighted` minimises cents + weights.
enum class Aim { kCheapest, kLightest, kSoonest, kWeighted };

struct Weights {
  double cents_per_kg = 0;   // what a kilogram less is worth, at least 0
  double cents_per_day = 0;  // what a calendar day sooner is worth, at least 0
};

struct CompletionQuestion {
  Aim aim = Aim::kCheapest;
  Weights weights;
};

/// Fills every slot that the selection leaves undecided, so that the whole is best; what is chosen
/// is kept. Bikes of which every fact is known come first: one with facts that are not known is
/// only answered when no other exists (its verdict says so). Ties are broken by price, then mass.
///
/// Errors: those of `choices`; kRefused when no complete bike contains the choices; kOutOfRange for
/// a negative weight.
[[nodiscard]] Result<Completion> complete(const Problem& problem, const Selection& selection,
                                          const CompletionQuestion& question,
                                          const ChoicesSettings& settings = {});

/// Complete bikes of which none is at once cheaper, lighter and sooner than any other bike: the
/// cheapest, the lightest and the soonest are among them, the others lie between. By price.
/// Errors: those of `complete`.
[[nodiscard]] Result<std::vector<Completion>> trade_offs(const Problem& problem,
                                                         const Selection& selection, int most = 7,
                                                         const ChoicesSettings& settings = {});

}  // namespace rollwright::spec
