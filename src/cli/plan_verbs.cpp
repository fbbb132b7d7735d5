#include "cli/verbs.hpp"
#include "shop/plan_desk.hpp"

namespace rollwright::cli {
namespace {

/// What these verbs may ask for.
struct PlanOptions {
  shop::ProposalWish wish;
  bool agree = false;
  double seconds = 0;
  std::string person;
  std::string from;
  std::string to;
  std::optional<int> frozen_days;
  std::optional<double> day_late, moved, kit_day, last_day, uneven_hour;
};

/// Shows what is proposed; with --agree it becomes the plan at once, and the plan is shown.
int propose(const PlanOptions& options, const Common& common, shop::Shop& shop) {
  shop::PlanDesk& desk = shop.plan_desk();
  const Result<shop::PlanView> plan = desk.plan();
  if (!plan) return fail(common, plan.error());
  const Result<shop::ProposalView> proposed =
      options.seconds > 0
          ? desk.propose(options.wish, plan->number, {.seconds = options.seconds, .watch = {}})
          : desk.propose(options.wish, plan->number);
  if (!proposed) return fail(common, proposed.error());
  if (options.agree) return answer(common, desk.agree(proposed->id, common.who));
  const int code = answer(common, proposed);
  if (!common.json) std::cout << "Nothing is changed; --agree makes it the plan.\n";
  return code;
}

int set_plan(const PlanOptions& options, const Common& common, shop::Shop& shop) {
  const Result<shop::PlanView> plan = shop.plan_desk().plan();
  if (!plan) return fail(common, plan.error());
  shop::PlanSettingsView settings = plan->settings;
  settings.frozen_days = options.frozen_days.value_or(settings.frozen_days);
  settings.day_late = options.day_late.value_or(settings.day_late);
  settings.moved = options.moved.value_or(settings.moved);
  settings.kit_day = options.kit_day.value_or(settings.kit_day);
  settings.last_day = options.last_day.value_or(settings.last_day);
  settings.uneven_hour = options.uneven_hour.value_or(settings.uneven_hour);
  return answer(common, shop.plan_desk().set_settings(settings, common.who));
}

int tell_absence(const PlanOptions& options, bool is_back, const Common& common,
                 shop::Shop& shop) {
  const Result<Day> first = parse_day(options.from);
  if (!first) return fail(common, first.error());
  const Result<Day> last = options.to.empty() ? first : parse_day(options.to);
  if (!last) return fail(common, last.error());
  return answer(common, shop.plan_desk().tell_absence(
                            options.person,
                            {.first = *first, .last = *last, .is_back = is_back}, common.who));
}

int calendar(const std::string& person, const Common& common, shop::Shop& shop) {
  const Result<std::string> text = shop.plan_desk().calendar(person);
  if (!text) return fail(common, text.error());
  std::cout << *text;
  return 0;
}

using Options = std::shared_ptr<PlanOptions>;

CLI::App* add_proposing(Verbs& verbs, const char* name, const char* help, const Options& options) {
  CLI::App* verb = verbs.add(name, help, [options](const Common& common, shop::Shop& shop) {
    return propose(*options, common, shop);
  });
  verb->add_flag("--agree", options->agree, "make it the plan; otherwise it is only shown");
  verb->add_option("--seconds", options->seconds, "search so long; a little by itself")
      ->check(CLI::Range(1.0, shop::PlanDesk::kMostImproveSeconds));
  return verb;
}

void add_work(CLI::App& verb, const Options& options) {
  verb.add_option("order", options->wish.order, "2041")->required();
  verb.add_option("operation", options->wish.operation, "A-20")->required();
}

void add_days(Verbs& verbs, const char* name, const char* help, bool is_back) {
  const auto options = std::make_shared<PlanOptions>();
  auto* verb = verbs.add(name, help, [options, is_back](const Common& common, shop::Shop& shop) {
    return tell_absence(*options, is_back, common, shop);
  });
  verb->add_option("person", options->person)->required();
  verb->add_option("first", options->from, "first day, as in 2026-12-03")->required();
  verb->add_option("last", options->to, "last day; the first when left out");
}

}  // namespace

void add_plan_verbs(Verbs& verbs) {
  verbs.add("plan", "who does what, when, and what of it is out of date",
            [](const Common& common, shop::Shop& shop) { return answer(common, shop.plan()); });
  add_proposing(verbs, "plan-anew", "plan again over what is frozen and put by hand, and say why",
                std::make_shared<PlanOptions>());
  const auto moved = std::make_shared<PlanOptions>();
  auto* move =
      add_proposing(verbs, "move", "put an operation to a person and a time by hand", moved);
  add_work(*move, moved);
  move->add_option("--to", moved->wish.person, "who does it")->required();
  move->add_option("--at", moved->wish.start, "its start, as in 2026-12-03T10:30")->required();
  move->add_option("--stand", moved->wish.stand, "of its area, from 1; any when left out");
  const auto let_go = std::make_shared<PlanOptions>();
  let_go->wish.unpin = true;
  add_work(*add_proposing(verbs, "let-go", "let the plan decide again where an operation goes",
                          let_go),
           let_go);
  const auto set = std::make_shared<PlanOptions>();
  auto* settings = verbs.add("set-plan", "how the shop plans: the frozen days and the weights",
                             [set](const Common& common, shop::Shop& shop) {
                               return set_plan(*set, common, shop);
                             });
  settings->add_option("--frozen-days", set->frozen_days, "working days that never move");
  settings->add_option("--day-late", set->day_late, "weight of a day late");
  settings->add_option("--moved", set->moved, "weight of an operation moved");
  settings->add_option("--kit-day", set->kit_day, "weight of a day that a kit waits");
  settings->add_option("--last-day", set->last_day, "weight of a day until all is ready");
  settings->add_option("--uneven-hour", set->uneven_hour, "weight of an hour uneven");
  add_days(verbs, "away", "a person is not there", false);
  add_days(verbs, "back", "a person is there after all", true);
  const auto whose = std::make_shared<std::string>();
  verbs.add("calendar", "a person's work of the agreed plan, for a calendar (iCalendar)",
            [whose](const Common& common, shop::Shop& shop) {
              return calendar(*whose, common, shop);
            })->add_option("person", *whose)->required();
}

}  // namespace rollwright::cli
