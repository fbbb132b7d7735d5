#include "shop/fit_after.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "shop/bike.hpp"
#include "shop/questions.hpp"

namespace rollwright::shop {
namespace {

using trade::Severity;
using trade::Verdict;

bool is_question(const trade::Trade& trade, const std::string& rule) {
  return std::ranges::find(trade.questions, rule, &trade::Question::id) != trade.questions.end();
}

bool looks_at(const spec::Finding& finding, const std::set<trade::SlotId>& slots) {
  return std::ranges::any_of(finding.parts, [&slots](const spec::SlotPart& part) {
    return slots.contains(part.slot);
  });
}

bool was_said(const spec::SpecCheck& before, const spec::Finding& finding) {
  return std::ranges::any_of(before.findings, [&finding](const auto& old) {
    return old.rule == finding.rule && old.verdict == finding.verdict &&
           old.sentence == finding.sentence;
  });
}

void judge(const LifeAt& at, const spec::Finding& finding, bool looks, FitAfter& fit) {
  const bool asked = is_question(at.trade, finding.rule);
  const bool unknown_stop = finding.verdict == Verdict::kNotKnown &&
                            finding.severity == Severity::kStop && !asked && looks;
  const bool does_not_fit =
      finding.verdict == Verdict::kDoesNotFit && (looks || !was_said(fit.before, finding));
  if (does_not_fit || unknown_stop) {
    fit.stops.push_back(fmt::format("{} ({}): {}", finding.rule, trade::word_of(finding.severity),
                                    finding.sentence));
  } else if (!was_said(fit.before, finding)) {
    fit.warns.push_back(fmt::format("{} ({}, {}): {}", finding.rule,
                                    trade::word_of(finding.severity),
                                    trade::word_of(finding.verdict), finding.sentence));
  }
}

}  // namespace

FitAfter fit_after(const LifeAt& at, const trade::Order& changed,
                   const std::set<trade::SlotId>& slots) {
  FitAfter fit{.before = check_order(at.trade, at.build, bike_of(at.state, at.order), at.order),
               .after = check_order(at.trade, at.build, bike_of(at.state, changed), changed),
               .stops = {},
               .warns = {}};
  for (const spec::Finding& finding : fit.after.findings) {
    judge(at, finding, looks_at(finding, slots), fit);
  }
  return fit;
}

}  // namespace rollwright::shop
