#include "shop/goods_marks.hpp"

#include <algorithm>
#include <cctype>
#include <set>

#include <fmt/format.h>

#include "base/text.hpp"
#include "shop/order_input.hpp"

namespace rollwright::shop {
namespace {

constexpr std::size_t kShortestSerial = 2;
constexpr std::size_t kLongestSerial = 40;

bool is_serial(const std::string& text) {
  const auto part_of_one = [](char c) {
    return std::isalnum(static_cast<unsigned char>(c)) != 0 ||
           std::string_view("-./_#").find(c) != std::string_view::npos;
  };
  return kShortestSerial <= text.size() && text.size() <= kLongestSerial &&
         std::ranges::all_of(text, part_of_one) && std::ranges::any_of(text, [](char c) {
           return std::isdigit(static_cast<unsigned char>(c)) != 0;
         });
}

std::unexpected<Error> wrong_serial(const std::string& serial, std::string sentence,
                                    Code code = Code::kBadInput) {
  return refuse(code, std::move(sentence), {.field = "serials", .value = serial});
}

/// The line on which a piece of this part with this number stands already, if it is not away again.
const trade::PurchaseLine* holder_of(const State& state, const trade::PurchaseLine& line,
                                     const std::string& serial) {
  const auto has_it = [&](const trade::PurchaseLine& each) {
    return each.part == line.part &&
           std::ranges::any_of(each.marked, [&](const trade::Marked& marked) {
             return marked.serial == serial && marked.place != trade::PlaceOfPiece::kSentBack;
           });
  };
  if (has_it(line)) return &line;
  for (const trade::PurchaseLine& each : state.held.purchases) {
    if (each.id != line.id && has_it(each)) return &each;
  }
  return nullptr;
}

Result<void> good_serials(const State& state, const trade::PurchaseLine& line,
                          const std::vector<std::string>& serials) {
  std::set<std::string> seen;
  for (const std::string& serial : serials) {
    if (!is_serial(serial)) {
      return wrong_serial(serial,
                          "a serial number has 2 to 40 letters, digits and - . / _ #, and one "
                          "digit at least; read it again");
    }
    if (!seen.insert(serial).second) {
      return wrong_serial(serial, "this number is given twice", Code::kConflict);
    }
    if (const trade::PurchaseLine* holder = holder_of(state, line, serial)) {
      return wrong_serial(serial,
                          fmt::format("a piece of {} with this number came in on line {} already",
                                      line.part.text, holder->id),
                          Code::kConflict);
    }
  }
  return {};
}

std::vector<std::string> serials_at(const trade::PurchaseLine& line, trade::PlaceOfPiece place) {
  std::vector<std::string> serials;
  for (const trade::Marked& marked : line.marked) {
    if (marked.place == place && !marked.serial.empty()) serials.push_back(marked.serial);
  }
  return serials;
}

/// Pieces of a lot without numbers: as many as can be told apart.
void move_lot(trade::PurchaseLine& line, trade::PlaceOfPiece from, const MarksGiven& given) {
  int left = given.pieces;
  std::vector<trade::Marked> moved;
  for (trade::Marked& marked : line.marked) {
    if (marked.place != from || !marked.serial.empty() || left == 0) continue;
    const int taken = std::min(left, marked.pieces);
    marked.pieces -= taken;
    left -= taken;
    moved.push_back({.serial = {}, .lot = marked.lot, .pieces = taken, .place = given.place,
                     .day = given.day});
  }
  std::erase_if(line.marked, [](const trade::Marked& marked) { return marked.pieces == 0; });
  line.marked.insert(line.marked.end(), moved.begin(), moved.end());
}

}  // namespace

bool asks_serial(const trade::Trade& trade, const State& state, const trade::PartId& id) {
  const trade::Part* part = state.part(id);
  if (part == nullptr) return false;
  const auto kind = trade.kinds.find(part->kind);
  return kind != trade.kinds.end() && kind->second.has_serial;
}

Result<void> add_marks(const State& state, trade::PurchaseLine& line, bool asked,
                       const MarksGiven& given) {
  constexpr std::size_t kLongestLot = 60;
  const auto count = static_cast<int>(given.serials.size());
  if (Result<void> ok = one_line("lot", given.lot, kLongestLot); !ok) return ok;
  if (Result<void> ok = good_serials(state, line, given.serials); !ok) return ok;
  if (asked && count != given.pieces) {
    return wrong_serial(join(given.serials, ", "),
                        fmt::format("each piece of {} carries its own number: {} good {} here, {} "
                                    "{} given; leave those to look at that cannot be read yet",
                                    line.part.text, given.pieces,
                                    given.pieces == 1 ? "piece is" : "pieces are", count,
                                    count == 1 ? "number is" : "numbers are"));
  }
  if (count > given.pieces) {
    return wrong_serial(join(given.serials, ", "),
                        fmt::format("there are {} numbers for {} good pieces", count,
                                    given.pieces));
  }
  for (const std::string& serial : given.serials) {
    line.marked.push_back({.serial = serial, .lot = given.lot, .pieces = 1, .place = given.place,
                           .day = given.day});
  }
  if (!given.lot.empty() && given.pieces > count) {
    line.marked.push_back({.serial = {}, .lot = given.lot, .pieces = given.pieces - count,
                           .place = given.place, .day = given.day});
  }
  return {};
}

Result<void> move_marks(trade::PurchaseLine& line, trade::PlaceOfPiece from,
                        const MarksGiven& given) {
  const std::vector<std::string> there = serials_at(line, from);
  std::vector<std::string> named = given.serials;
  if (named.empty() && static_cast<int>(there.size()) > given.pieces) {
    return refuse(Code::kBadInput,
                  fmt::format("say which {} of these: {}",
                              given.pieces == 1 ? "one" : std::to_string(given.pieces),
                              join(there, ", ")),
                  {.field = "serials"});
  }
  if (named.empty()) named = there;
  if (static_cast<int>(named.size()) > given.pieces) {
    return wrong_serial(join(named, ", "), fmt::format("these are more numbers than the {} pieces",
                                                       given.pieces));
  }
  for (const std::string& serial : named) {
    const auto found = std::ranges::find_if(line.marked, [&](const trade::Marked& marked) {
      return marked.serial == serial && marked.place == from;
    });
    if (found == line.marked.end()) {
      return wrong_serial(serial,
                          fmt::format("no piece with this number is {} on line {}",
                                      trade::word_of(from), line.id),
                          Code::kNotFound);
    }
    found->place = given.place;
    found->day = given.day;
  }
  if (there.empty()) move_lot(line, from, given);
  return {};
}

}  // namespace rollwright::shop
