#include "book/bike_lines.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "book/cells.hpp"

namespace rollwright::book {
namespace {

constexpr const char* kLineColumns =
    "order_id, number, at, who, deed, about, reading, point, value, outcome, limit_words, tool, "
    "part, serial, lot, came_by, note";
constexpr std::string_view kKeyIs = "\"key\":";
constexpr std::string_view kLinesAre = "\"lines\":[";
/// Orders whose lines are compared with the journal at a time.
constexpr int kOrdersAtATime = 256;

Row cells_of(const trade::OrderId& order, const trade::BikeLine& line) {
  return {order.text, std::int64_t{line.number}, iso(line.at), line.who.text,
          std::string(trade::word_of(line.deed)), line.about, line.reading,
          std::int64_t{line.point}, line.value ? Cell(*line.value) : Cell(),
          std::string(trade::word_of(line.outcome)), line.limit, line.tool, line.part.text,
          line.serial, line.lot, line.came_by, line.note};
}

trade::BikeLine line_from(const Row& row) {
  trade::BikeLine line{.number = number(row[1])};
  line.at = parse_instant(text(row[2])).value_or(Instant{});
  line.who = trade::PersonId(text(row[3]));
  line.deed = trade::deed_named(text(row[4])).value_or(trade::Deed::kNoted);
  line.about = text(row[5]);
  line.reading = text(row[6]);
  line.point = number(row[7]);
  if (!is_null(row[8])) line.value = real(row[8]);
  line.outcome = trade::outcome_named(text(row[9])).value_or(trade::Outcome::kNone);
  line.limit = text(row[10]);
  line.tool = text(row[11]);
  line.part = trade::PartId(text(row[12]));
  line.serial = text(row[13]);
  line.lot = text(row[14]);
  line.came_by = text(row[15]);
  line.note = text(row[16]);
  return line;
}

/// Writes a text as JSON does. By hand: verifying compares millions of these, and they have to come
/// out the same for ever.
void write_text(std::string& out, const std::string& text) {
  out += '"';
  for (const char letter : text) {
    const auto code = static_cast<unsigned char>(letter);
    if (letter == '"' || letter == '\\') {
      out += '\\';
      out += letter;
    } else if (code < 0x20) {
      out += fmt::format("\\u{:04x}", code);
    } else {
      out += letter;
    }
  }
  out += '"';
}

/// The cells of a row but the order, which is the journal entry's subject.
void write_row(std::string& out, const Row& row) {
  out += '[';
  for (std::size_t index = 1; index < row.size(); ++index) {
    if (index > 1) out += ',';
    if (const auto* text = std::get_if<std::string>(&row[index])) {
      write_text(out, *text);
    } else if (const auto* whole = std::get_if<std::int64_t>(&row[index])) {
      fmt::format_to(std::back_inserter(out), "{}", *whole);
    } else if (const auto* real = std::get_if<double>(&row[index])) {
      fmt::format_to(std::back_inserter(out), "{}", *real);
    } else {
      out += "null";
    }
  }
  out += ']';
}

Result<int> last_number(Database& database, const trade::OrderId& order) {
  const Result<Rows> rows = database.run(
      "select coalesce(max(number), 0) from bike_line where order_id = ?", {order.text});
  if (!rows) return std::unexpected(rows.error());
  return number(rows->front()[0]);
}

void ask_range(std::string& sql, Row& arguments, const char* column, const std::string& from,
               const std::string& to) {
  if (from.empty() && to.empty()) return;
  const std::string& low = from.empty() ? to : from;
  const std::string& high = to.empty() ? from : to;
  // That it is not empty lets the database use the index over those that are not.
  sql += fmt::format(" and {0} <> '' and {0} >= ? and {0} <= ? and length({0}) = ?", column);
  arguments.insert(arguments.end(), {low, high, static_cast<std::int64_t>(low.size())});
}

Result<void> is_range(const std::string& from, const std::string& to, const char* field) {
  if (from.empty() || to.empty()) return {};
  if (from.size() == to.size() && from <= to) return {};
  return refuse(Code::kBadInput,
                fmt::format("a range goes from a lower to a higher number with as many characters; "
                            "\"{}\" to \"{}\" does not",
                            from, to),
                {.field = field, .value = to});
}

Result<void> take_marks(Database& database, const std::string& where, const Row& arguments,
                        std::vector<LineFound>& found) {
  const Result<Rows> rows = database.run(
      fmt::format("select {} from bike_line where deed in ('kitted', 'on', 'off') and {}",
                  kLineColumns, where),
      arguments);
  if (!rows) return std::unexpected(rows.error());
  for (const Row& row : *rows) found.push_back({trade::OrderId(text(row[0])), line_from(row)});
  return {};
}

std::string altered(const std::string& order, std::int64_t line) {
  return fmt::format("line {} of bike {} in the tables is not what the journal says of it", line,
                     order);
}

/// The rows of some bikes held against the journal: each entry's text is written once more from as
/// many rows as it covers.
class Comparison {
 public:
  Comparison(Database& database, std::string first, std::string last)
      : database_(database), first_(std::move(first)), last_(std::move(last)) {}

  Result<std::optional<std::string>> first_altered() {
    const Result<Rows> entries = database_.run(
        "select subject, after from journal where subject >= ? and subject <= ? "
        "order by subject, seq",
        {"bike " + first_, "bike " + last_});
    if (!entries) return std::unexpected(entries.error());
    Result<Rows> rows = database_.run(
        fmt::format("select {} from bike_line where order_id >= ? and order_id <= ? "
                    "order by order_id, number",
                    kLineColumns),
        {first_, last_});
    if (!rows) return std::unexpected(rows.error());
    rows_ = std::move(*rows);
    for (const Row& entry : *entries) {
      Result<std::optional<std::string>> altered =
          compare(text(entry[0]).substr(std::string_view("bike ").size()), text(entry[1]));
      if (!altered || *altered) return altered;
    }
    if (next_ < rows_.size()) return altered_here();
    return std::nullopt;
  }
  std::int64_t keys() const { return keys_; }

 private:
  std::string altered_here() const { return altered(text(rows_[next_][0]), whole(rows_[next_][1])); }

  Result<std::optional<std::string>> compare(const std::string& order, const std::string& said) {
    std::size_t at = said.find(kLinesAre);
    if (at == std::string::npos) return altered(order, 1);
    const std::size_t head = at;
    at += kLinesAre.size();
    const std::size_t first = next_;
    while (at < said.size() && said[at] == '[') {
      if (next_ == rows_.size()) {
        return fmt::format("a line of bike {} is in the journal but gone from the tables", order);
      }
      row_text_.clear();
      write_row(row_text_, rows_[next_]);
      const bool same = text(rows_[next_][0]) == order &&
                        said.compare(at, row_text_.size(), row_text_) == 0;
      if (!same) return altered_here();
      ++next_;
      at += row_text_.size();
      if (at < said.size() && said[at] == ',') ++at;
    }
    if (said.compare(at, std::string::npos, "]}") != 0) return altered(order, 1);
    if (head == 1) return std::nullopt;  // written without a key
    return same_key(said.substr(1, head - 2), first);
  }

  /// `said` is "key":"...".
  Result<std::optional<std::string>> same_key(const std::string& said, std::size_t first) {
    ++keys_;
    const Result<Rows> held =
        database_.run("select key from sent_once where order_id = ? and number = ?",
                      {rows_[first][0], rows_[first][1]});
    if (!held) return std::unexpected(held.error());
    std::string text = std::string(kKeyIs);
    if (held->size() == 1) write_text(text, book::text(held->front()[0]));
    if (text == said) return std::nullopt;
    return fmt::format("what says that line {} of bike {} was sent once is not what the journal says",
                       whole(rows_[first][1]), book::text(rows_[first][0]));
  }

  Database& database_;
  std::string first_;
  std::string last_;
  Rows rows_;
  std::size_t next_ = 0;
  std::int64_t keys_ = 0;
  std::string row_text_;
};

}  // namespace

std::string bike_subject(const trade::OrderId& order) { return "bike " + order.text; }

std::string text_of(const trade::BikeLines& lines) {
  std::string text = "{";
  if (!lines.key.empty()) {
    text += kKeyIs;
    write_text(text, lines.key);
    text += ',';
  }
  text += kLinesAre;
  for (const trade::BikeLine& line : lines.lines) {
    if (text.back() == ']') text += ',';
    write_row(text, cells_of(lines.order, line));
  }
  return text + "]}";
}

Result<bool> was_sent(Database& database, const std::string& key) {
  if (key.empty()) return false;
  const Result<Rows> rows = database.run("select 1 from sent_once where key = ?", {key});
  if (!rows) return std::unexpected(rows.error());
  return !rows->empty();
}

Result<void> add(Database& database, const trade::BikeLines& lines) {
  const Result<int> last = last_number(database, lines.order);
  if (!last) return std::unexpected(last.error());
  if (*last != lines.after) {
    return refuse(Code::kConflict,
                  fmt::format("somebody else wrote into the record of bike {} in the meantime; look "
                              "at it again",
                              lines.order.text),
                  {.field = "after", .value = std::to_string(lines.after)});
  }
  int next = lines.after;
  for (const trade::BikeLine& line : lines.lines) {
    ROLLWRIGHT_PROMISE(line.number == ++next);
    const Result<Rows> written = database.run(
        fmt::format("insert into bike_line ({}) values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, "
                    "?, ?, ?)",
                    kLineColumns),
        cells_of(lines.order, line));
    if (!written) return std::unexpected(written.error());
  }
  if (lines.key.empty()) return {};
  return done(database.run("insert into sent_once (key, order_id, number) values (?, ?, ?)",
                           {lines.key, lines.order.text, std::int64_t{lines.after + 1}}));
}

Result<std::vector<trade::BikeLine>> read_bike_lines(Database& database,
                                                     const trade::OrderId& order, int after) {
  const Result<Rows> rows = database.run(
      fmt::format("select {} from bike_line where order_id = ? and number > ? order by number",
                  kLineColumns),
      {order.text, std::int64_t{after}});
  if (!rows) return std::unexpected(rows.error());
  std::vector<trade::BikeLine> lines;
  lines.reserve(rows->size());
  for (const Row& row : *rows) lines.push_back(line_from(row));
  return lines;
}

Result<std::vector<trade::BikeLine>> read_bike_photos(Database& database,
                                                      const trade::OrderId& order) {
  return read_each<trade::BikeLine>(
      database,
      fmt::format("select {} from bike_line where order_id = ? and deed = 'photo' order by number",
                  kLineColumns),
      line_from, {order.text});
}

Result<std::vector<LineFound>> read_visits(Database& database, std::int64_t after) {
  const std::string only_new =
      " and order_id in (select substr(subject, 6) from journal where seq > ? and "
      "subject >= 'bike ' and subject < 'bike!')";
  return read_each<LineFound>(
      database,
      fmt::format("select {} from bike_line where deed in ('visit', 'given back', 'reminded'){} "
                  "order by order_id, number",
                  kLineColumns, after > 0 ? only_new : std::string()),
      [](const Row& row) { return LineFound{trade::OrderId(text(row[0])), line_from(row)}; },
      after > 0 ? Row{after} : Row{});
}

Result<std::vector<LineFound>> find_marks(Database& database, const MarksWanted& wanted) {
  const bool lots = !wanted.lot_from.empty() || !wanted.lot_to.empty();
  const bool serials = !wanted.serial_from.empty() || !wanted.serial_to.empty();
  if (!lots && !serials && wanted.parts.empty()) {
    return refuse(Code::kBadInput, "say which part, lot or serial is looked for", {.field = "part"});
  }
  Result<void> ok = is_range(wanted.lot_from, wanted.lot_to, "lot_to");
  if (ok) ok = is_range(wanted.serial_from, wanted.serial_to, "serial_to");
  if (!ok) return std::unexpected(ok.error());
  std::string range = "true";
  Row range_arguments;
  ask_range(range, range_arguments, "lot", wanted.lot_from, wanted.lot_to);
  ask_range(range, range_arguments, "serial", wanted.serial_from, wanted.serial_to);
  std::vector<LineFound> found;
  if (wanted.parts.empty()) {
    ok = take_marks(database, range, range_arguments, found);
  }
  for (const trade::PartId& part : wanted.parts) {
    if (!ok) break;
    Row arguments = range_arguments;
    arguments.emplace_back(part.text);
    ok = take_marks(database, range + " and part = ?", arguments, found);
    if (!ok || !wanted.unmarked_too || (!lots && !serials)) continue;
    const std::string unmarked = fmt::format("part = ?{}{}", lots ? " and lot = ''" : "",
                                             serials ? " and serial = ''" : "");
    ok = take_marks(database, unmarked, {part.text}, found);
  }
  if (!ok) return std::unexpected(ok.error());
  std::ranges::sort(found, {}, [](const LineFound& each) {
    return std::pair<std::string_view, int>(each.order.text, each.line.number);
  });
  return found;
}

Result<std::optional<std::string>> first_altered_line(Database& database) {
  const Result<Rows> orders = database.run(
      "select order_id from bike_line union select substr(subject, 6) from journal "
      "where subject >= 'bike ' and subject < 'bike!' order by 1",
      {});
  if (!orders) return std::unexpected(orders.error());
  std::int64_t keys = 0;
  for (std::size_t from = 0; from < orders->size(); from += kOrdersAtATime) {
    const std::size_t to = std::min(orders->size(), from + kOrdersAtATime) - 1;
    Comparison comparison(database, text((*orders)[from][0]), text((*orders)[to][0]));
    Result<std::optional<std::string>> altered = comparison.first_altered();
    if (!altered || *altered) return altered;
    keys += comparison.keys();
  }
  const Result<Rows> all_keys = database.run("select count(*) from sent_once", {});
  if (!all_keys) return std::unexpected(all_keys.error());
  if (whole(all_keys->front()[0]) != keys) {
    return "there are more keys of what was sent in the tables than in the journal";
  }
  return std::nullopt;
}

}  // namespace rollwright::book
