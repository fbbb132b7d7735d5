#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "trade/meant.hpp"
#include "trade/shop_reading.hpp"
#include "trade/skills.hpp"

namespace rollwright::trade {
namespace {

constexpr int kMostStands = 100;

ShopSettings read_settings(TableReader& reader) {
  ShopSettings settings;
  settings.name = reader.text("name");
  settings.town = reader.text_or("town", "");
  settings.currency = reader.text_or("currency", settings.currency);
  settings.time_zone = reader.text_or("time_zone", settings.time_zone);
  settings.invented = reader.flag_or("invented", false);
  settings.hourly_rate = read_money(reader, "hourly_rate").value_or(Money{});
  settings.walk_in_share = reader.number("walk_in_share", 0, 0.95).value_or(settings.walk_in_share);
  settings.absence_chance =
      reader.number("absence_chance", 0, 0.95).value_or(settings.absence_chance);
  settings.promise_confidence = reader.number("promise_confidence", 0.5, 0.999)
                                    .value_or(settings.promise_confidence);
  settings.closed = reader.days("closed");
  std::ranges::sort(settings.closed);
  reader.finish();
  const bool three_capitals =
      settings.currency.size() == 3 &&
      std::ranges::all_of(settings.currency, [](char c) { return 'A' <= c && c <= 'Z'; });
  if (!three_capitals) {
    reader.problem("currency", Code::kBadInput, "a currency is three capitals, as in EUR",
                   settings.currency);
  }
  if (settings.time_zone != "UTC" && settings.time_zone.find('/') == std::string::npos) {
    reader.problem("time_zone", Code::kBadInput, "a time zone is named as in Europe/Berlin or UTC",
                   settings.time_zone);
  }
  return settings;
}

std::vector<std::string> areas_of(const Trade& trade) {
  std::set<std::string> areas;
  for (const Operation& operation : trade.operations) areas.insert(operation.area);
  return {areas.begin(), areas.end()};
}

void read_area(ShopReading& reading, TableReader& reader) {
  Area area{.id = reader.text("id")};
  area.stands = reader.whole("stands", 1, kMostStands).value_or(1);
  reader.finish();
  if (area.id.empty()) return;
  const std::vector<std::string> known = areas_of(reading.trade);
  if (!known.empty() && std::ranges::count(known, area.id) == 0) {
    reader.problem("id", Code::kBadInput,
                   "no operation is done in an area called so" + meant(area.id, known), area.id);
  }
  if (std::ranges::count(reading.files.areas, area.id, &Area::id) > 0) {
    reader.problem("id", Code::kConflict, "this area is there twice; keep one", area.id);
    return;
  }
  reading.files.areas.push_back(std::move(area));
}

/// "9:00-12:30" as minutes of the day.
std::optional<std::pair<int, int>> parse_span(std::string_view text) {
  const std::size_t dash = text.find('-');
  if (dash == std::string_view::npos) return std::nullopt;
  const auto from = parse_clock_time(trim(text.substr(0, dash)));
  const auto to = parse_clock_time(trim(text.substr(dash + 1)));
  if (!from || !to || *from >= *to) return std::nullopt;
  return std::pair(*from, *to);
}

Hours read_hours(TableReader& week, const std::string& weekday) {
  Hours hours;
  for (const std::string& text : week.texts(weekday)) {
    const auto span = parse_span(text);
    if (!span) {
      week.problem(weekday, Code::kBadInput, "hours run from and to, as in \"9:00-12:30\"", text);
    } else if (!hours.empty() && span->first < hours.back().second) {
      week.problem(weekday, Code::kContradiction,
                   "these hours begin before the ones in front of them end", text);
    } else {
      hours.push_back(*span);
    }
  }
  return hours;
}

void read_away(TableReader& reader, Person& person) {
  const TomlValue* away = reader.value("away");
  if (away == nullptr) return;
  const auto wrong = [&reader](const std::string& value) {
    reader.problem("away", Code::kBadInput,
                   "each time away is its first and last day, as in [\"2026-12-24\", "
                   "\"2026-12-31\"]",
                   value);
  };
  if (away->sort != TomlValue::Sort::kList) return wrong(plain_text(*away));
  for (const TomlValue& span : away->items) {
    if (span.items.size() != 2) {
      wrong(plain_text(span));
      continue;
    }
    const std::string first_text = plain_text(span.items[0]);
    const std::string last_text = plain_text(span.items[1]);
    const Result<Day> first = parse_day(first_text);
    const Result<Day> last = parse_day(last_text);
    if (!first || !last) {
      wrong(first ? last_text : first_text);
    } else if (*last < *first) {
      reader.problem("away", Code::kContradiction, "the last day lies before the first", last_text);
    } else {
      person.away.emplace_back(*first, *last);
    }
  }
}

void check_words_of(TableReader& reader, std::string_view key,
                    const std::vector<std::string>& words, const std::vector<std::string>& known) {
  for (const std::string& word : words) {
    if (std::ranges::count(known, word) > 0) continue;
    reader.problem(key, Code::kBadInput,
                   fmt::format("this is one of {}{}", join(known, ", "),
                               nearest(word, known) ? meant(word, known) : std::string{}),
                   word);
  }
}

void read_person(ShopReading& reading, TableReader& reader) {
  Person person{.id = PersonId(reader.text("id")), .name = reader.text("name")};
  person.roles = reader.texts("roles");
  person.skills = reader.texts("skills");
  person.productive = reader.number("productive", 0.05, 1).value_or(person.productive);
  read_away(reader, person);
  if (const TomlValue* table = reader.table("week")) {
    TableReader week(*table, reader.file(), reading.problems, "week.");
    for (std::size_t day = 0; day < person.week.size(); ++day) {
      person.week[day] = read_hours(week, weekday_words()[day]);
    }
    week.finish();
  } else if (!reader.has("week")) {
    reader.missing("week", "write the hours of each weekday in [person.week]");
  }
  reader.finish();
  check_words_of(reader, "roles", person.roles, all_roles());
  check_words_of(reader, "skills", person.skills, all_skills());
  if (person.id.empty()) return;
  if (!reading.people.insert(person.id.text).second) {
    return reader.problem("id", Code::kConflict, "this person is there twice; keep one",
                          person.id.text);
  }
  reading.files.people.push_back(std::move(person));
}

}  // namespace

void read_shop_settings(ShopReading& reading, const ShopFile& file) {
  read_root(reading, file, [&](TableReader& root) {
    if (const TomlValue* shop = root.table("shop")) {
      TableReader reader(*shop, file.name, reading.problems);
      reading.files.settings.push_back(read_settings(reader));
    } else if (!root.has("shop")) {
      root.missing("shop", "the file begins with a table [shop]");
    }
    for (const TomlValue* area : root.tables("area")) {
      TableReader reader(*area, file.name, reading.problems);
      read_area(reading, reader);
    }
  });
}

void read_people(ShopReading& reading, const ShopFile& file) {
  reading.all_people = read_root(reading, file, [&](TableReader& root) {
    for (const TomlValue* person : root.tables("person")) {
      TableReader reader(*person, file.name, reading.problems);
      read_person(reading, reader);
    }
  });
}

}  // namespace rollwright::trade
