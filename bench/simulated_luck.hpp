#pragma once

#include <array>
#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/clock.hpp"
#include "base/index.hpp"
#include "base/random.hpp"
#include "plan/workshop.hpp"
#include "simulated_catalogue.hpp"

/// How things really go in an invented shop. Nothing in src knows these laws: they are others than
/// those from which a promise is reckoned, and hold what its model leaves out.
namespace rollwright::bench {

/// What becomes of one line that was ordered.
struct Delivery {
  int working_days = 1;
  std::optional<int> confirmed;  // working days after placing, as the supplier says
  bool good = true;
  bool in_trouble = false;  // its supplier was
};

/// An order as it comes in.
struct Agreed {
  std::string id;
  Day day = {};
  int design = 0;
  std::vector<WantedPart> parts;   // not on the shelf that day
};

/// Laws that may be left out one at a time, to see what each costs the promises.
struct Laws {
  bool trouble = true;      // weeks in which all deliveries of a supplier take longer
  bool not_good = true;     // parts that come wrong or damaged
  bool astray = true;       // deliveries and operations that take several times as long
  bool own_ways = true;     // suppliers, kinds of parts, bikes and people unlike the usual
  bool spells = true;       // else people are ill for single days, as often in all
  bool holidays = true;
  bool seasons = true;
};
/// Sets the law of that name to false; false when there is none.
[[nodiscard]] bool leave_out(Laws& laws, const std::string& name);

/// The luck of a shop over some years, all fixed by the seed and by names: whatever the shop does,
/// the same line placed on the same day takes as long, the same operation as many minutes, and the
/// same people are ill on the same days.
///
/// - Deliveries: each supplier, and each of its groups, is quicker or slower than the trade's row
///   by a factor drawn evenly; times are Weibull above a third of the middle, with one in 25 gone
///   astray. Suppliers have weeks of trouble, in which all their deliveries take half as long
///   again to more than twice. Spring is slower. Two to eight in a hundred come wrong or damaged.
/// - Work: gamma about the middle of the range, with a factor of the bike, one operation in 25
///   taking two to four times as long, and a pace of each person.
/// - People: ill for days on end; holidays, told eight weeks before; walk-ins of 15 minutes to
///   some hours that interrupt, more in spring.
/// - Orders: Poisson, more in spring.
class Luck {
 public:
  Luck(std::uint64_t seed, const Catalogue& catalogue, Day first, int days, const Laws& laws = {});

  [[nodiscard]] std::vector<Agreed> orders(double a_week) const;
  [[nodiscard]] Delivery delivery(const trade::Offer& offer, const std::string& line,
                                  Day placed) const;
  /// Hands-on minutes at the pace of a person who is like the others.
  [[nodiscard]] double minutes(const std::string& order, const trade::Operation& operation) const;
  /// Hands-on minutes per minute between walk-ins.
  [[nodiscard]] double pace(int person) const { return paces_[static_cast<std::size_t>(person)]; }
  /// When the person is at bikes on that day: holidays, illness and walk-ins taken out.
  [[nodiscard]] std::vector<plan::Window> at_work(int person, Day day) const;
  /// Holidays that are known on `today`.
  [[nodiscard]] std::vector<std::pair<Day, Day>> known_away(int person, Day today) const;
  [[nodiscard]] bool is_ill(int person, Day day) const { return ill_[at(person)][index(day)] != 0; }
  [[nodiscard]] const std::vector<Day>& closed() const { return closed_; }

 private:
  [[nodiscard]] Random named(const std::string& name) const;
  [[nodiscard]] std::size_t index(Day day) const;
  [[nodiscard]] double season(Day day) const;  // -1 in winter to 1 in spring
  void add_trouble();
  void add_absences();
  [[nodiscard]] bool is_away(int person, Day day) const;

  std::uint64_t seed_;
  const Catalogue& catalogue_;
  Day first_;
  int days_;
  Laws laws_;
  std::vector<Day> closed_;
  std::map<std::string, std::vector<double>> trouble_;  // by supplier and day: factor, 1 is none
  std::vector<double> paces_;
  std::vector<std::vector<std::pair<Day, Day>>> holidays_;
  std::vector<std::vector<char>> ill_;
};

}  // namespace rollwright::bench
