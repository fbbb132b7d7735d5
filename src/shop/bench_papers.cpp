#include "shop/bench_papers.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "shop/photo_desk.hpp"
#include "shop/shop.hpp"

// The history of a bike on paper.
namespace rollwright::shop {
namespace {

std::string place_in(const trade::Sheet& sheet, const std::string& slot) {
  const auto part = std::ranges::find(sheet.parts, slot, &trade::SheetPart::slot);
  return part == sheet.parts.end() ? slot : part->position;
}

/// Names of those who had a hand in the work that a check line proves.
std::string doers_of(const BenchDesk::At& at, const trade::SheetCheck& check) {
  std::vector<std::string> names;
  for (const std::string& covered : check.covers) {
    const build::OperationNow* now = at.bench.operation(covered);
    if (now == nullptr) continue;
    for (const auto* people : {&now->doers, &now->helpers}) {
      for (const trade::PersonId& who : *people) {
        const std::string name = at.state->name_of(who);
        if (std::ranges::count(names, name) == 0) names.push_back(name);
      }
    }
  }
  return listed(names);
}

/// A photograph as it is printed beside its line.
documents::BikeHistory::Photo printed_photo(PhotoDesk& photos, const std::string& picture) {
  Result<pictures::SmallCopy> copy = photos.small_copy(picture);
  if (!copy) return {.picture = picture, .why_not = copy.error().sentence};
  return {.picture = picture, .jpeg = std::move(copy->jpeg), .width = copy->width,
          .height = copy->height};
}

}  // namespace

std::string local_moment(const State& state, Instant at) {
  const auto local = local_time(state.settings.time_zone, at);
  if (!local) return iso(at);
  return fmt::format("{} {}, {:02}:{:02}", in_short(local->day), iso(local->day).substr(0, 4),
                     local->minute / 60, local->minute % 60);
}

std::string marks_text(const std::string& serial, const std::string& lot) {
  std::vector<std::string> marks;
  if (!serial.empty()) marks.push_back("number " + serial);
  if (!lot.empty()) marks.push_back("lot " + lot);
  return join(marks, ", ");
}

std::vector<documents::BikeHistory::Part> parts_on_and_off(const BenchDesk::At& at) {
  std::vector<documents::BikeHistory::Part> parts;
  for (const build::FittedNow& part : at.bench.parts) {
    parts.push_back({.place = place_in(at.sheet, part.slot),
                     .name = at.state->name_of(part.part),
                     .marks = marks_text(part.serial, part.lot),
                     .on = local_moment(*at.state, part.since),
                     .off = part.off ? local_moment(*at.state, *part.off) : std::string(),
                     .why = part.why_off});
  }
  return parts;
}

std::vector<documents::BikeHistory::Check> checks_signed(const BenchDesk::At& at) {
  std::vector<documents::BikeHistory::Check> checks;
  for (const build::CheckNow& now : at.bench.checks) {
    const bool open = now.outcome == trade::Outcome::kNone;
    checks.push_back({.id = now.check->id, .mark = now.check->mark, .text = now.check->text,
                      .outcome = std::string(trade::word_of(now.outcome)),
                      .who = open ? std::string()
                                  : at.state->name_of(now.who) + ", " + local_moment(*at.state, now.at),
                      .work_by = doers_of(at, *now.check),
                      .note = open ? now.because : now.note});
  }
  return checks;
}

Result<std::string> BenchDesk::history_pdf(const std::string& order) {
  const auto at = this->at(order, false);
  if (!at) return std::unexpected(at.error());
  const auto view = history(order);
  if (!view) return std::unexpected(view.error());
  const auto newest = shop_.book_.entries("", 1);
  if (!newest) return std::unexpected(newest.error());
  documents::BikeHistory paper{.shop = at->state->settings.name,
                               .invented = at->state->settings.invented, .printed = at->moment,
                               .order = order, .rider = view->rider, .build = view->build,
                               .state = view->state, .parts = parts_on_and_off(*at),
                               .checks = checks_signed(*at)};
  const auto lines = shop_.book_.bike_lines(at->order->id);
  if (!lines) return std::unexpected(lines.error());
  for (const trade::BikeLine& line : *lines) {
    paper.lines.push_back({.number = line.number, .at = local_moment(*at->state, line.at),
                           .who = at->state->name_of(line.who),
                           .sentence = sentence_of(line, shop_.trade_, *at->state)});
    if (line.deed != trade::Deed::kPhoto) continue;
    paper.lines.back().photo = printed_photo(shop_.photos(), line.serial);
  }
  for (const HistoryEntry& entry : view->journal) {
    const Result<Instant> moment = parse_instant(entry.at);
    paper.journal.push_back(
        {.number = entry.entry,
         .at = moment ? local_moment(*at->state, *moment) : entry.at, .who = entry.who,
         .what = entry.why.empty() ? entry.what : entry.what + ": " + entry.why});
  }
  if (!newest->empty()) paper.last_hash = newest->front().hash;
  return documents::bike_history_pdf(paper);
}

Result<std::string> BenchDesk::owners_pack_pdf(const std::string& order) {
  const auto at = this->at(order, false);
  if (!at) return std::unexpected(at.error());
  if (!trade::is_live(at->order->state) && !trade::is_over(at->order->state)) {
    return refuse(Code::kRefused,
                  fmt::format("order {} is in the state {}: there is no bike yet", order,
                              trade::word_of(at->order->state)),
                  {.field = "order", .value = order});
  }
  auto pack = owners_pack_of(shop_.trade_, shop_.service_plan_, *at);
  if (!pack) return std::unexpected(pack.error());
  pack->printed = at->moment;
  return documents::owners_pack_pdf(*pack);
}

}  // namespace rollwright::shop
