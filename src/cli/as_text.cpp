#include "cli/as_text.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "cli/columns.hpp"
#include "units/money.hpp"

namespace rollwright::cli {
namespace {

using enum Columns::Side;

std::string money(std::int64_t cents) { return shown(Money{cents}); }
std::string signed_money(std::int64_t cents) {
  return (cents > 0 ? "+" : "") + shown(Money{cents});
}
std::string difference_in_price(const std::optional<std::int64_t>& cents) {
  return cents ? signed_money(*cents) : "";
}
std::string difference_in_mass(const std::optional<double>& kilograms) {
  return kilograms ? fmt::format("{:+.0f} g", *kilograms * 1000) : "";
}
std::string difference_in_days(const std::optional<int>& days) {
  return days ? fmt::format("{:+} days", *days) : "";
}
std::string day(const std::optional<Day>& day) { return day ? in_short(*day) : ""; }
std::string mass(const std::optional<double>& kilograms) {
  return kilograms ? fmt::format("{:.3f} kg", *kilograms) : "not known";
}

std::string findings_text(const std::vector<shop::FindingView>& findings) {
  std::string text;
  for (const shop::FindingView& finding : findings) {
    text += fmt::format("  {} ({}, {}): {}\n      source: {}\n", finding.verdict, finding.rule,
                        finding.severity, finding.sentence, finding.source);
  }
  return text;
}

/// How many whole bikes there are with the choices, and what the best of them come to.
std::string whole_bikes_text(const shop::SpecView& spec) {
  std::string text;
  if (!spec.fitting.empty()) {
    text += fmt::format("Whole bikes with these parts: {}{} fit", spec.count_exact ? "" : "at most ",
                        spec.fitting);
    if (spec.possible != spec.fitting) {
      text += fmt::format(", {} if facts that are not known turn out well", spec.possible);
    }
    text += ".\n";
  }
  std::vector<std::string> best;
  if (spec.best.price_cents) best.push_back("from " + money(*spec.best.price_cents));
  if (spec.best.mass_kg) best.push_back("from " + mass(spec.best.mass_kg));
  if (spec.best.ready) best.push_back("from " + in_short(*spec.best.ready));
  if (!best.empty()) text += "They are to be had " + listed(best) + ".\n";
  return text;
}

}  // namespace

std::string as_text(const shop::TodayView& view) {
  std::string text = in_words(view.day, true) + "\n";
  std::string kind;
  for (const shop::TodayLine& line : view.lines) {
    if (line.kind != kind) text += "\n" + line.kind + "\n";
    kind = line.kind;
    text += "  " + line.sentence + "\n";
  }
  return view.lines.empty() ? text + "Nothing needs a person now.\n" : text;
}

std::string as_text(const std::vector<shop::OrderLine>& lines) {
  Columns columns({kLeft, kLeft, kLeft, kLeft, kLeft, kRight, kLeft});
  for (const shop::OrderLine& line : lines) {
    columns.row({line.id, line.rider, line.state, line.verdict,
                 line.promised ? "promised " + day(line.promised) : "",
                 fmt::format("{}/{} parts", line.parts_here, line.parts_needed), line.build});
  }
  return lines.empty() ? "There are no open orders.\n" : columns.text();
}

std::string check_as_text(const shop::OrderView& view) {
  const shop::SpecView& spec = view.spec;
  std::string text = fmt::format(
      "Order {}: {}. {} rules checked, {} not known, {} do not apply.\n", view.line.id,
      spec.verdict, spec.rules_checked, spec.rules_not_known, spec.rules_do_not_apply);
  if (!spec.missing.empty()) text += "Still to choose: " + listed(spec.missing) + ".\n";
  text += whole_bikes_text(spec);
  text += findings_text(spec.findings);
  text += fmt::format("Price {}, mass {:.2f} kg", money(spec.price_cents), spec.mass_kg);
  if (spec.masses_not_known > 0) text += fmt::format(" and {} not known", spec.masses_not_known);
  return text + ".\n";
}

namespace {

std::string budget_text(const shop::OrderView& view) {
  const shop::BudgetView& budget = *view.budget;
  if (!budget.at_most_cents) return "Budget: nothing said.\n";
  return fmt::format("Budget: {} at most; the price is {}, {}.\n", money(*budget.at_most_cents),
                     money(view.line.price_cents),
                     *budget.over_cents == 0 ? "within it"
                                             : "over it by " + money(*budget.over_cents));
}

/// Lines of what the customer means to spend and when somebody comes back to them; may be empty.
std::string enquiry_text(const shop::OrderView& view) {
  std::string text = view.budget ? budget_text(view) : "";
  if (view.follow_up) {
    text += fmt::format("To follow up{}: {}, {}.\n", view.follow_up->is_due ? " (due)" : "",
                        in_words(view.follow_up->day), view.follow_up->about);
  }
  return text;
}

}  // namespace

std::string as_text(const shop::OrderView& view) {
  std::string text = fmt::format("{}  {}\n{}\n{}\n", view.line.id, view.line.rider,
                                 view.line.build, view.need.words);
  text += "State: " + view.line.state;
  for (const std::string& flag : view.line.flags) text += ", " + flag;
  if (view.line.promised) text += "; promised " + in_words(*view.line.promised);
  if (view.line.needed_by) text += "; needed by " + in_words(*view.line.needed_by);
  text += "\n" + enquiry_text(view) + "\n";
  Columns columns({kLeft, kLeft, kRight, kRight, kLeft, kLeft});
  for (const shop::SlotView& slot : view.spec.slots) {
    if (!slot.part && !slot.required) continue;
    columns.row({slot.name, slot.part ? slot.part->name : "(to choose)",
                 slot.part ? money(slot.part->price_cents) : "",
                 slot.part ? mass(slot.part->mass_kg) : "", slot.here,
                 slot.verdict == "fits" ? "" : slot.verdict});
  }
  text += columns.text() + "\n" + check_as_text(view);
  if (!view.numbers.empty()) text += "\n";
  for (const shop::NumberView& number : view.numbers) {
    text += fmt::format("{}: {}{}\n", number.name, number.value,
                        number.us.empty() ? "" : " (" + number.us + ")");
  }
  return text;
}

std::string as_text(const shop::SlotChoicesView& view) {
  Columns columns({kLeft, kLeft, kLeft, kLeft, kRight, kRight, kRight, kLeft});
  for (const shop::ChoiceView& choice : view.choices) {
    columns.row({choice.chosen ? "*" : "", choice.status, choice.part.id, choice.part.name,
                 difference_in_price(choice.price_difference_cents),
                 difference_in_mass(choice.mass_difference_kg),
                 difference_in_days(choice.ready_difference_days),
                 choice.note});
  }
  return fmt::format("{} of order {}:\n", view.name, view.order) + columns.text();
}

std::string as_text(const shop::ClashView& view) {
  std::string text = fmt::format("{} cannot be put there, because these clash:\n", view.part);
  for (const std::string& choice : view.choices) text += "  " + choice + "\n";
  for (const shop::FindingView& rule : view.rules) {
    text += fmt::format("  {} ({}): {}\n", rule.rule, rule.severity, rule.sentence);
  }
  if (!view.opens.empty()) text += "What would open it:\n" + as_text(view.opens);
  return text;
}

std::string as_text(const std::vector<shop::RepairView>& views) {
  if (views.empty()) return "Nothing is broken: the choices can all be part of one whole bike.\n";
  std::string text;
  for (const shop::RepairView& view : views) {
    text += fmt::format("  {} ({}, {})\n", view.sentence,
                        difference_in_price(view.price_difference_cents), view.verdict);
  }
  return text;
}

std::string as_text(const shop::CompletionView& view) {
  Columns columns({kLeft, kLeft, kLeft, kRight, kRight});
  for (const shop::FillView& fill : view.fills) {
    columns.row({"", fill.slot_name, fill.name, money(fill.price_cents), mass(fill.mass_kg)});
  }
  return fmt::format("{}: {}, {:.3f} kg. {}\n", view.aim, money(view.price_cents), view.mass_kg,
                     view.sentence) +
         columns.text();
}

std::string as_text(const std::vector<shop::CompletionView>& views) {
  Columns columns({kLeft, kRight, kRight, kLeft, kLeft});
  for (const shop::CompletionView& view : views) {
    columns.row({view.aim, money(view.price_cents), fmt::format("{:.3f} kg", view.mass_kg),
                 view.ready ? "ready " + day(view.ready) : "cannot be had", view.verdict});
  }
  return columns.text();
}

std::string as_text(const shop::BuyView& view) {
  std::string text = view.sentence + "\n";
  for (const shop::BuyGroup& group : view.groups) {
    text += fmt::format("\n{}, {} ({}), cut-off {}: goods {}, freight {}{}\n",
                        in_short(group.day), group.name, group.supplier, group.cut_off, money(group.goods_cents),
                        group.freight_cents == 0 ? "free" : money(group.freight_cents),
                        group.note.empty() ? "" : " (" + group.note + ")");
    Columns columns({kLeft, kRight, kLeft, kRight, kLeft, kLeft});
    for (const shop::BuyLine& line : group.lines) {
      columns.row({"  order by " + in_short(line.order_by) + (line.too_late ? " (too late)" : ""),
                   std::to_string(line.quantity), line.name, money(line.total_cents),
                   line.orders.empty() ? "for the shelf" : "for " + listed(line.orders),
                   fmt::format("in time {:.0f} in 100", line.in_time * 100)});
    }
    text += columns.text();
  }
  if (!view.kits.empty()) text += "\nKits that are not all in hand\n";
  Columns kits({kLeft, kLeft, kLeft, kLeft, kLeft});
  for (const shop::KitView& kit : view.kits) {
    kits.row({"  " + kit.order, in_short(kit.day),
              fmt::format("complete {:.0f} in 100", kit.complete * 100),
              fmt::format("{} to buy, {} under way", kit.to_buy, kit.under_way),
              fmt::format("{} {:.0f} in 100", kit.weakest_name, kit.weakest_there * 100)});
  }
  text += kits.text();
  if (!view.loans.empty()) text += "\n" + join(view.loans, "\n") + "\n";
  for (const std::string& sentence : view.no_offer) text += "\n" + sentence;
  return view.no_offer.empty() ? text : text + "\n";
}

std::string as_text(const shop::PartsView& view) {
  Columns columns({kLeft, kLeft, kLeft, kRight, kRight, kRight, kLeft});
  for (const shop::PartRow& row : view.parts) {
    columns.row({row.part.id, row.kind_name, row.part.name, money(row.part.price_cents),
                 mass(row.part.mass_kg), fmt::format("{} on shelf", row.on_shelf),
                 fmt::format("{} known, {} measured, {} not known", row.known, row.measured,
                             row.not_known)});
  }
  return view.parts.empty() ? "The catalogue is empty.\n" : columns.text();
}

std::string as_text(const shop::PartView& view) {
  std::string text = fmt::format("{}  {} ({}, {})\n{}, {}, {} on shelf, {} put by, {} under way\n\n",
                                 view.row.part.id, view.row.part.name, view.row.kind_name,
                                 view.row.part.maker, money(view.row.part.price_cents),
                                 mass(view.row.part.mass_kg), view.row.on_shelf, view.row.put_by,
                                 view.row.under_way);
  Columns facts({kLeft, kLeft, kLeft, kLeft});
  for (const shop::FactView& fact : view.facts) {
    facts.row({fact.name, fact.value + (fact.us.empty() ? "" : " (" + fact.us + ")"),
               fact.standing,
               fact.by.empty() ? fact.source : fact.source + ", " + fact.by});
  }
  text += facts.text();
  for (const shop::OfferView& offer : view.offers) {
    text += fmt::format("\n{} {}: {}; {:.0f} to {:.0f} working days (half, nine in ten; {})",
                        offer.supplier, offer.article, join(offer.prices, ", "),
                        offer.lead_days_50, offer.lead_days_90, offer.basis);
  }
  return text + "\n";
}

std::string as_text(const std::vector<shop::OrderQuestions>& orders) {
  std::string text;
  for (const shop::OrderQuestions& order : orders) {
    text += fmt::format("{} {}, {}\n", order.order, order.rider, order.state);
    if (order.questions.empty()) text += "  Nothing has to be asked of this bike.\n";
    for (const shop::QuestionView& question : order.questions) {
      text += fmt::format("  {} ({}, {}): {}\n", question.id, question.severity, question.owner,
                          question.sentence);
      if (!question.before.empty()) text += "      " + question.before + "\n";
      if (question.answer.empty()) continue;
      text += fmt::format("      {}, {} on {}{}\n", question.answer, question.who,
                          day(question.day), question.note.empty() ? "" : ": " + question.note);
    }
  }
  return orders.empty() ? "Nothing waits for an answer.\n" : text;
}

std::string as_text(const shop::NotKnownView& view) {
  std::string text = view.sentence + "\n";
  for (const shop::NotKnownFact& fact : view.facts) {
    text += fmt::format("\n{} of {}{}\n", fact.name, fact.of,
                        fact.part.empty() ? "" : fmt::format(" ({} {})", fact.part, fact.attribute));
    if (!fact.orders.empty()) text += fmt::format("  holds {}\n", join(fact.orders, ", "));
    if (!fact.offers.empty()) {
      text += fmt::format("  known, more could be offered for {}\n", join(fact.offers, ", "));
    }
    text += fmt::format("  {}. {}.\n", fact.severity, fact.who);
    if (!fact.help.empty()) text += "  " + fact.help + "\n";
    for (const shop::AskingRule& rule : fact.rules) {
      text += fmt::format("  {} ({}) looks at {}.\n", rule.rule, rule.severity, rule.asks);
    }
  }
  return text;
}

std::string as_text(const std::vector<shop::FoundLine>& lines) {
  std::string text;
  for (const shop::FoundLine& line : lines) text += line.kind + "  " + line.text + "\n";
  return lines.empty() ? "Nothing found.\n" : text;
}

std::string as_text(const shop::ImportReport& report) {
  if (!report.problems.empty()) {
    return fmt::format("Nothing was imported; {} to mend:\n{}\n", report.problems.size(),
                       join(report.problems, "\n"));
  }
  if (report.counts.empty()) return "There was nothing to import.\n";
  std::vector<std::string> counts;
  for (const auto& [what, number] : report.counts) {
    counts.push_back(fmt::format("{} {}", number, what));
  }
  return fmt::format("{}: {}.\n", report.imported ? "Imported" : "All well, nothing written",
                     listed(counts));
}

std::string as_text(const shop::JournalReport& report) {
  return fmt::format("{}\nLast hash {}\n", report.sentence, report.last_hash);
}

std::string as_text(const shop::PersonSignIn& person) {
  return fmt::format("{} signs in as {} ({}){}{}\n", person.name, person.id,
                     join(person.roles, ", "), person.has_password ? ", has a password" : "",
                     person.has_pin ? ", has a PIN" : "");
}

}  // namespace rollwright::cli
