#include <fmt/format.h>

#include "base/text.hpp"
#include "cli/verbs.hpp"
#include "shop/care_desk.hpp"

// Bikes that come back: what they are here for, and giving them back.
namespace rollwright::cli {
namespace {

struct CareWish {
  std::string order;
  shop::VisitGiven visit;
  shop::AskedGiven asked;
  shop::RemindedGiven reminded;
  std::string not_to_ride;
};

std::string named(const std::vector<shop::CareOperation>& operations) {
  std::vector<std::string> texts;
  for (const shop::CareOperation& each : operations) {
    texts.push_back(each.standing.empty() ? each.operation
                                          : fmt::format("{} ({})", each.operation, each.standing));
  }
  return join(texts, ", ");
}

std::string visit_text(const shop::CareVisitView& visit) {
  std::string text = fmt::format("{}  {}", visit.since, visit.about);
  if (visit.km) text += fmt::format(", {:g} km", *visit.km);
  if (!visit.note.empty()) text += ": " + visit.note;
  text += "\n  " + named(visit.asked) + "\n";
  if (visit.back.empty()) return text;
  return text + fmt::format("  given back {} by {}{}{}\n", visit.back, visit.back_by,
                            visit.to_be_ridden ? "" : ", not to be ridden",
                            visit.back_note.empty() ? "" : ": " + visit.back_note);
}

void add_care(Verbs& verbs, const std::shared_ptr<CareWish>& wish) {
  CLI::App* care = verbs.add("care", "how it stands with a bike that was handed over, and its visits",
                             [wish](const Common& common, shop::Shop& shop) {
                               return answer(common, shop::CareDesk(shop).look(wish->order));
                             });
  care->add_option("order", wish->order, "order")->required();
}

void add_visit(Verbs& verbs, const std::shared_ptr<CareWish>& wish) {
  CLI::App* visit = verbs.add(
      "visit", "a bike in care comes back: for visits of the service plan, a recall, a repair",
      [wish](const Common& common, shop::Shop& shop) {
        wish->visit.who = common.who;
        return answer(common, shop::CareDesk(shop).open(wish->order, wish->visit));
      });
  visit->add_option("order", wish->order, "order")->required();
  visit->add_option("--for", wish->visit.visits, "what for, as `care` offers it; may be given again")
      ->required();
  visit->add_option("--operation", wish->visit.operations, "what else is asked for");
  visit->add_option("--km", wish->visit.km, "km that the bike shows");
  visit->add_option("--note", wish->visit.note, "what its rider says");
}

void add_ask_for(Verbs& verbs, const std::shared_ptr<CareWish>& wish) {
  CLI::App* ask = verbs.add("ask-for", "more that an open visit asks for",
                            [wish](const Common& common, shop::Shop& shop) {
                              wish->asked.who = common.who;
                              return answer(common,
                                            shop::CareDesk(shop).ask(wish->order, wish->asked));
                            });
  ask->add_option("order", wish->order, "order")->required();
  ask->add_option("operation", wish->asked.operations, "operations")->required();
  ask->add_option("--note", wish->asked.note, "why");
}

void add_give_back(Verbs& verbs, const std::shared_ptr<CareWish>& wish) {
  CLI::App* back = verbs.add(
      "give-back", "the bike goes back to its rider, and the visit is over",
      [wish](const Common& common, shop::Shop& shop) {
        return answer(common, shop::CareDesk(shop).give_back(
                                  wish->order, {.who = common.who, .key = {},
                                                .to_be_ridden = wish->not_to_ride.empty(),
                                                .note = wish->not_to_ride}));
      });
  back->add_option("order", wish->order, "order")->required();
  back->add_option("--not-to-ride", wish->not_to_ride,
                   "it is not to be ridden: why, and that its rider was told");
}

void add_coming_back(Verbs& verbs) {
  verbs.add("coming-back", "bikes that are here for a visit, and those that should come back",
            [](const Common& common, shop::Shop& shop) {
              return answer(common, shop::CareDesk(shop).coming_back());
            });
}

void add_reminded(Verbs& verbs, const std::shared_ptr<CareWish>& wish) {
  CLI::App* reminded = verbs.add(
      "reminded", "a rider was told that the bike should come back",
      [wish](const Common& common, shop::Shop& shop) {
        wish->reminded.who = common.who;
        return answer(common, shop::CareDesk(shop).remind(wish->order, wish->reminded));
      });
  reminded->add_option("order", wish->order, "order")->required();
  reminded->add_option("--for", wish->reminded.visits, "what for; left out: what is due");
  reminded->add_option("--note", wish->reminded.note, "what the rider said");
}

std::string reminded_text(const shop::CareDueLine& line) {
  if (!line.reminded) return {};
  return fmt::format(" Told on {}{}.", in_words(*line.reminded),
                     line.said.empty() ? "" : ": " + line.said);
}

}  // namespace

std::string as_text(const shop::ComingBackView& view) {
  std::string text = in_words(view.day, true) + ": " + view.sentence + "\n";
  for (const shop::CareHereLine& here : view.here) {
    text += fmt::format("  {} {}: {}, here since {}\n", here.order, here.rider, here.about,
                        in_words(here.since));
  }
  for (const shop::CareDueLine& due : view.due) {
    text += fmt::format("{} {}{}\n", due.to_be_told ? "*" : " ", due.sentence, reminded_text(due));
  }
  return text;
}

std::string as_text(const shop::CareView& view) {
  std::string text = fmt::format("{} {}, {}: {}\n", view.order, view.rider, view.frame,
                                 view.sentence);
  if (view.open) text += visit_text(*view.open);
  for (const std::string& missing : view.missing) text += "  open: " + missing + "\n";
  for (const shop::CareVisitView& visit : view.visits) text += visit_text(visit);
  if (!view.may_open) return text;
  for (const shop::CareOffer& offer : view.offers) {
    text += fmt::format("{}{}, {}: {}\n", offer.due ? "* " : "  ", offer.about, offer.when,
                        named(offer.operations));
  }
  return text;
}

void add_care_verbs(Verbs& verbs) {
  const auto wish = std::make_shared<CareWish>();
  add_coming_back(verbs);
  add_reminded(verbs, wish);
  add_care(verbs, wish);
  add_visit(verbs, wish);
  add_ask_for(verbs, wish);
  add_give_back(verbs, wish);
}

}  // namespace rollwright::cli
