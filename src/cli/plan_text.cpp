#include <fmt/format.h>

#include "base/text.hpp"
#include "cli/as_text.hpp"
#include "cli/columns.hpp"

namespace rollwright::cli {
namespace {

constexpr auto kNumber = Columns::Side::kRight;
constexpr auto kWord = Columns::Side::kLeft;
constexpr std::size_t kMostBars = 12;
constexpr std::size_t kMostChanges = 20;

/// "12-03 10:30"
std::string moment_text(const std::string& local) {
  return local.substr(5, 5) + " " + local.substr(11);
}

std::string marks_of(const shop::BarView& bar) {
  std::vector<std::string> marks;
  if (bar.lends) marks.push_back("lends a hand to " + bar.others.front());
  if (!bar.lends && !bar.others.empty()) marks.push_back("with " + listed(bar.others));
  if (bar.late) marks.emplace_back("late");
  if (bar.frozen) marks.emplace_back("frozen");
  if (bar.pinned) {
    marks.push_back(bar.pinned_by.empty() ? "put there by hand" : "put there by " + bar.pinned_by);
  }
  if (!bar.cannot.empty()) marks.push_back("cannot stay: " + bar.cannot);
  return marks.empty() ? std::string() : fmt::format(" ({})", join(marks, "; "));
}

std::string lane_text(const shop::PersonPlan& person) {
  std::string text = fmt::format("\n{} ({})\n", person.name, join(person.skills, " "));
  Columns columns({kWord, kWord, kWord, kWord});
  for (std::size_t i = 0; i < std::min(person.bars.size(), kMostBars); ++i) {
    const shop::BarView& bar = person.bars[i];
    columns.row({"  " + moment_text(bar.from) + "-" + bar.to.substr(11), bar.order, bar.operation,
                 bar.name + marks_of(bar)});
  }
  text += columns.text();
  if (person.bars.size() > kMostBars) {
    text += fmt::format("  and {} more\n", person.bars.size() - kMostBars);
  }
  return text;
}

std::string place_text(const std::string& person, const std::optional<std::string>& start) {
  return start ? person + ", " + moment_text(*start) : std::string("no place");
}

std::string changes_text(const shop::ProposalView& view) {
  if (view.changes.empty()) return {};
  Columns columns({kWord, kWord, kWord, kWord, kWord});
  for (std::size_t i = 0; i < std::min(view.changes.size(), kMostChanges); ++i) {
    const shop::ChangeOfWork& change = view.changes[i];
    columns.row({"  " + change.order, change.operation,
                 place_text(change.from_person, change.from),
                 "-> " + place_text(change.to_person, change.to), join(change.because, "; ")});
  }
  std::string text = "\nWhat moves, and why\n" + columns.text();
  if (view.changes.size() > kMostChanges) {
    text += fmt::format("  and {} more\n", view.changes.size() - kMostChanges);
  }
  return text;
}

std::string hands_text(const shop::ProposalView& view) {
  if (view.hands.empty()) return {};
  Columns columns({kWord, kWord, kWord, kWord});
  for (std::size_t i = 0; i < std::min(view.hands.size(), kMostChanges); ++i) {
    const shop::ChangeOfHands& change = view.hands[i];
    columns.row({"  " + change.order, change.operation, moment_text(change.start),
                 fmt::format("{} -> {}", change.from.empty() ? "nobody" : listed(change.from),
                             listed(change.to))});
  }
  std::string text = "\nWho lends a hand instead\n" + columns.text();
  if (view.hands.size() > kMostChanges) {
    text += fmt::format("  and {} more\n", view.hands.size() - kMostChanges);
  }
  return text;
}

std::string day_text(const std::optional<Day>& day) {
  return day ? in_short(*day) : std::string("beyond the plan");
}

std::string odds_text(const std::optional<double>& kept) {
  return kept ? fmt::format("{:.0f}", 100 * *kept) : std::string("?");
}

std::string orders_text(const shop::ProposalView& view) {
  if (view.orders.empty()) return {};
  Columns columns({kWord, kWord, kWord, kWord});
  for (const shop::ChangeOfDay& change : view.orders) {
    const bool drawn = change.kept_before || change.kept_after;
    columns.row({"  " + change.order, change.rider,
                 fmt::format("ready {}, was {}", day_text(change.ready_after),
                             day_text(change.ready_before)),
                 (change.promised ? "promised " + in_short(*change.promised) : std::string()) +
                     (drawn ? fmt::format(", kept in {} of 100, was {}",
                                          odds_text(change.kept_after),
                                          odds_text(change.kept_before))
                            : std::string()) +
                     (!change.at_risk      ? ""
                      : change.was_at_risk ? ", at risk as before"
                                           : ", newly at risk")});
  }
  return "\nBikes\n" + columns.text();
}

std::string figures_text(const shop::Figures& before, const shop::Figures& after) {
  Columns columns({kWord, kNumber, kNumber});
  columns.row({"  what it is judged by", "now", "then"});
  const auto row = [&columns](const char* name, double was, double is) {
    columns.row({std::string("  ") + name, rounded(was, 1), rounded(is, 1)});
  };
  row("days late, by weight", before.days_late, after.days_late);
  row("operations moved", before.moved, after.moved);
  row("days that kits wait", before.kit_days, after.kit_days);
  row("days until all is ready", before.last_days, after.last_days);
  row("uneven hours", before.uneven_hours, after.uneven_hours);
  row("cost", before.cost, after.cost);
  return "\n" + columns.text();
}

}  // namespace

std::string as_text(const shop::PlanView& view) {
  std::string text = view.standing + "\n" + view.sentence + "\n";
  for (const shop::OutOfDate& reason : view.out_of_date) text += "  " + reason.sentence + "\n";
  for (const shop::PersonPlan& person : view.people) text += lane_text(person);
  text += "\nBikes\n";
  Columns columns({kWord, kWord, kWord, kWord, kWord});
  for (const shop::PlannedOrder& order : view.orders) {
    columns.row({"  " + order.order, order.rider,
                 order.ready ? "ready " + in_short(*order.ready) : "beyond the plan",
                 order.promised ? "promised " + in_short(*order.promised) : "",
                 order.late ? "late: " + order.bound_by : ""});
  }
  return text + columns.text();
}

std::string as_text(const shop::ProposalView& view) {
  std::string text = view.sentence + "\n";
  for (const shop::OutOfDate& reason : view.reasons) text += "  " + reason.sentence + "\n";
  text += changes_text(view);
  text += hands_text(view);
  if (view.same_day > 0) {
    text += fmt::format("{} more keep person and day, at another hour\n", view.same_day);
  }
  text += orders_text(view) + figures_text(view.before, view.after);
  return text + fmt::format("\n{} placements, {:.2f} s\n", view.placements, view.seconds);
}

}  // namespace rollwright::cli
