#include <fmt/format.h>

#include "base/text.hpp"
#include "cli/as_text.hpp"
#include "cli/columns.hpp"
#include "units/money.hpp"

namespace rollwright::cli {
namespace {

constexpr auto kNumbers = Columns::Side::kRight;
constexpr auto kWords = Columns::Side::kLeft;

std::string price_words(const shop::WayView& way) {
  if (way.price_cents == 0) return "no extra cost";
  const std::string amount = (way.price_cents > 0 ? "+" : "") + shown(Money{way.price_cents});
  return way.price_is_most ? amount + " at most" : amount;
}

std::string day_words(const std::optional<Day>& day) { return day ? in_short(*day) : "beyond"; }

std::string way_text(const shop::WayView& way, const std::string& before) {
  std::string text = fmt::format("{}{}\n     {:.1f} days on average, sooner in {:.0f} of 100; ready "
                                 "by {} in 50, {} in 90 of 100; {}\n",
                                 before, way.what, way.mean_days, 100 * way.share_sooner,
                                 day_words(way.day_50), day_words(way.day_90), price_words(way));
  if (!way.note.empty()) text += "     " + way.note + "\n";
  for (const shop::OtherPromiseView& other : way.others) {
    text += fmt::format("     order {} ({}), promised {}: kept in {:.0f} of 100 instead of {:.0f}\n",
                        other.order, other.rider, in_short(other.promised),
                        100 * other.chance_after, 100 * other.chance_before);
  }
  return text;
}

}  // namespace

std::string as_text(const shop::PromiseView& view) {
  std::string text = view.sentence + "\n\n";
  Columns columns({kNumbers, kWords});
  columns.row({"50 in 100", in_words(view.day_50)});
  columns.row({"80 in 100", in_words(view.day_80)});
  columns.row({"90 in 100", in_words(view.day_90)});
  columns.row({"95 in 100", in_words(view.day_95)});
  text += columns.text();
  if (!view.holds.empty()) text += "\nWhat holds it\n";
  Columns holds({kNumbers, kWords});
  for (const shop::HoldView& hold : view.holds) {
    holds.row({fmt::format("  {:.0f} in 100", hold.share * 100), hold.what});
  }
  text += holds.text();
  return text + fmt::format("\n{} draws, {} placements, {:.2f} s\n", view.draws, view.placements,
                            view.seconds);
}

std::string as_text(const shop::SoonerView& view) {
  std::string text = view.sentence + "\n";
  text += fmt::format("As it is: ready by {} in 50, {} in 90 of 100.\n", in_words(view.day_50),
                      in_words(view.day_90));
  if (!view.ways.empty()) text += "\nEach alone\n";
  for (const shop::WayView& way : view.ways) text += way_text(way, "  ");
  if (view.together.size() > 1) text += "\nOne on top of the other\n";
  for (const shop::TogetherView& step : view.together) {
    if (view.together.size() > 1) text += way_text(step.way, fmt::format("  {}. ", step.place));
  }
  if (!view.no_help.empty()) text += "\nLooked at, and not half a day sooner\n";
  for (const shop::WayView& way : view.no_help) text += "  " + way.what + "\n";
  return text + fmt::format("\n{} shops of {} draws, {:.2f} s\n", view.runs, view.draws,
                            view.seconds);
}

std::string as_text(const shop::LoadView& view) {
  std::string text = view.sentence + "\n";
  const auto hours = [](double planned, double there) {
    return fmt::format("{:.1f} of {:.1f} h", planned, there);
  };
  for (const shop::WeekLoadView& week : view.weeks) {
    text += fmt::format("\n{} to {}", in_short(week.first), in_short(week.last));
    text += week.due.empty() ? "\n" : fmt::format(", promised: {}\n", listed(week.due));
    Columns columns({kWords, kNumbers, kWords});
    for (const shop::SkillLoadView& skill : week.skills) {
      columns.row({"  " + skill.name, hours(skill.planned, skill.there), listed(skill.people)});
    }
    for (const shop::PersonLoadView& person : week.people) {
      columns.row({"  " + person.name, hours(person.planned, person.there), ""});
    }
    text += columns.text();
  }
  return text;
}

std::string as_text(const shop::MinutesView& view) {
  Columns columns({kWords, kWords, kNumbers, kNumbers, kNumbers});
  for (const shop::MinutesLine& line : view.lines) {
    columns.row({"  " + line.operation, line.name,
                 fmt::format("{:.0f} to {:.0f} min stated", line.stated_low, line.stated_high),
                 fmt::format("{:.0f} to {:.0f} min", line.low, line.high),
                 line.times == 1 ? std::string("1 time") : fmt::format("{} times", line.times)});
  }
  return view.sentence + "\n" + columns.text();
}

std::string as_text(const shop::KeptView& view) {
  std::string text = view.sentence + "\n";
  Columns bands({kWords, kNumbers, kNumbers, kNumbers, kWords});
  for (const shop::KeptBandView& band : view.bands) {
    bands.row({"  said " + band.words, std::to_string(band.promises), std::to_string(band.kept),
               fmt::format("{:.0f} in 100", 100.0 * band.kept / band.promises),
               fmt::format("by chance {} to {}", band.least, band.most)});
  }
  if (!view.bands.empty()) text += "\nPromises, kept, of them\n" + bands.text();
  Columns ways({kWords, kNumbers, kNumbers});
  for (const shop::OtherWayView& way : view.other_ways) {
    ways.row({"  " + way.words, std::to_string(way.kept),
              fmt::format("{:+.1f} days", way.days_longer)});
  }
  if (view.all.promises > 0) text += "\nHad one promised, would have been kept\n" + ways.text();
  Columns deliveries({kWords, kNumbers});
  for (const shop::DeliveryBandView& band : view.delivery_bands) {
    deliveries.row({fmt::format("  here by the day of {} in 100", band.in_100),
                    fmt::format("{:.0f} in 100", 100 * band.share)});
  }
  return text + fmt::format("\nDeliveries of a year, replayed: {}\n", view.deliveries) +
         deliveries.text();
}

}  // namespace rollwright::cli
