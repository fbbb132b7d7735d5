#include "invented_years.hpp"

#include <fmt/format.h>

#include "base/random.hpp"
#include "book/book.hpp"

namespace rollwright::bench {
namespace {

constexpr int kBikesAtATime = 200;
constexpr int kPartsToChoose = 400;
constexpr int kPiecesInALot = 1000;
const Instant kFirst = parse_instant("2016-01-04T08:00:00Z").value();

trade::PartId part_called(int number) { return trade::PartId(fmt::format("IV-{:04}", number)); }

/// One bike after the other.
class Maker {
 public:
  Maker(book::Book& book, const YearsWish& wish) : book_(book), wish_(wish), random_(wish.seed) {}

  Result<YearsMade> make() {
    if (Result<void> ok = write_parts(); !ok) return std::unexpected(ok.error());
    for (int bike = 0; bike < wish_.bikes; bike += kBikesAtATime) {
      book::Change change{.who = "mara", .what = "bench", .why = "invented"};
      for (int each = bike; each < std::min(wish_.bikes, bike + kBikesAtATime); ++each) {
        add_bike(each, change);
      }
      change.at = moment_;
      const auto written = book_.write(change);
      if (!written) return std::unexpected(written.error());
    }
    return made_;
  }

 private:
  Result<void> write_parts() {
    book::Change change{.who = "mara", .what = "import", .why = "invented", .at = kFirst};
    for (int number = 0; number < kPartsToChoose; ++number) {
      change.put.parts.push_back({.id = part_called(number), .kind = trade::KindId("K-ST"),
                                  .name = fmt::format("Invented part {}", number),
                                  .maker = "Invented", .price = Money{1000}});
    }
    const auto written = book_.write(change);
    if (!written) return std::unexpected(written.error());
    return {};
  }

  void add_bike(int number, book::Change& change) {
    const trade::OrderId id(std::to_string(wish_.first_order + number));
    moment_ = kFirst + std::chrono::hours(3L * number);
    trade::Order order{.id = id, .build = "B1", .state = trade::OrderState::kInCare,
                       .opened = day_of(moment_)};
    order.rider = {.name = fmt::format("Invented Rider {}", number),
                   .contact = fmt::format("rider{}@example.invalid", number)};
    order.need = {.words = "invented", .region = "EU", .assist_class = "25 km/h"};
    last_ = 0;
    trade::BikeLines kit = lines_of(id);
    for (int place = 0; place < wish_.parts_each; ++place) {
      const trade::SlotId slot(fmt::format("place_{:02}", place));
      trade::BikeLine line = next(trade::Deed::kKitted, slot.text);
      line.part = part_called(static_cast<int>(random_.below(kPartsToChoose)));
      line.came_by = fmt::format("P-{}", random_.below(200'000));
      if (place % 4 == 0) line.serial = fmt::format("SN{:09}", made_.fitted);
      else line.lot = lot_called(static_cast<int>(made_.fitted / kPiecesInALot));
      order.choices[slot] = line.part;
      kit.lines.push_back(std::move(line));
      ++made_.fitted;
    }
    change.record.push_back(std::move(kit));
    for (int operation = 0; operation < wish_.operations_each; ++operation) {
      add_operation(id, fmt::format("A-{}", 10 + operation), change);
      order.done.insert(fmt::format("A-{}", 10 + operation));
    }
    for (int visit = 0; visit < wish_.visits_each; ++visit) add_visit(id, visit, change);
    change.put.orders.push_back(std::move(order));
    ++made_.bikes;
  }

  void add_visit(const trade::OrderId& id, int number, book::Change& change) {
    moment_ += std::chrono::days(182);
    trade::BikeLines lines = lines_of(id);
    lines.lines.push_back(next(trade::Deed::kVisit, "yearly service"));
    lines.lines.back().value = 900.0 * (number + 1);
    lines.lines.push_back(next(trade::Deed::kBack, ""));
    lines.lines.back().outcome = trade::Outcome::kPass;
    change.record.push_back(std::move(lines));
  }

  void add_operation(const trade::OrderId& id, const std::string& operation,
                     book::Change& change) {
    trade::BikeLines started = lines_of(id);
    started.lines.push_back(next(trade::Deed::kStarted, operation));
    change.record.push_back(std::move(started));
    trade::BikeLines readings = lines_of(id);
    for (int point = 1; point <= wish_.readings_each; ++point) {
      trade::BikeLine line = next(trade::Deed::kRead, operation);
      line.reading = "stem_steerer_bolts";
      line.point = point;
      line.value = 4 + 2 * random_.uniform();
      line.outcome = trade::Outcome::kPass;
      line.limit = "4 to 6 N·m, common practice";
      line.tool = "T2";
      readings.lines.push_back(std::move(line));
      ++made_.readings;
    }
    change.record.push_back(std::move(readings));
    trade::BikeLines done = lines_of(id);
    done.lines.push_back(next(trade::Deed::kDone, operation));
    change.record.push_back(std::move(done));
  }

  trade::BikeLines lines_of(const trade::OrderId& id) {
    return {.order = id, .after = last_, .key = fmt::format("{}-{}", id.text, last_), .lines = {}};
  }

  trade::BikeLine next(trade::Deed deed, const std::string& about) {
    moment_ += std::chrono::seconds(20);
    return {.number = ++last_, .at = moment_, .who = trade::PersonId("mara"), .deed = deed,
            .about = about};
  }

  book::Book& book_;
  YearsWish wish_;
  Random random_;
  YearsMade made_;
  Instant moment_ = kFirst;
  int last_ = 0;
};

}  // namespace

std::string lot_called(int number) { return fmt::format("L{:06}", number); }

Result<YearsMade> make_years(const std::string& path, const YearsWish& wish) {
  Result<book::Book> book = book::Book::open(path, true);
  if (!book) return std::unexpected(book.error());
  return Maker(*book, wish).make();
}

}  // namespace rollwright::bench
