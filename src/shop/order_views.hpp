#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "base/clock.hpp"
#include "shop/fit_views.hpp"

/// What is asked and answered about one order and its rider.
namespace rollwright::shop {

/// The bike in side elevation, to scale, millimetres; x forward from the bottom bracket, y up.
struct PointView {
  double x = 0;
  double y = 0;
};
struct OutlineView {
  bool drawn = false;
  std::string why_not;  // when facts for the drawing are not known
  std::map<std::string, PointView> points;
  std::map<std::string, double> lengths;  // "wheelbase", "rear_tyre_radius", ...
  std::map<std::string, std::string> labels;  // "stack 622 mm"
  std::vector<std::string> clash;  // points or tubes where a finding clashes
};

struct RiderView {
  std::string name;
  std::string contact;
  std::optional<double> height_mm;
  std::optional<double> inseam_mm;
  std::optional<double> mass_kg;
};

struct NeedView {
  std::string words;
  int use_class = 1;
  double luggage_kg = 0;
  bool child_seat = false;
  std::string region;
  std::string assist_class;
  std::string front_brake_lever;
  std::string route;
  bool by_freight = false;
};

struct StepView {
  std::string state;
  bool reached = false;
  bool current = false;
};

struct OrderLine {
  std::string id;
  std::string rider;
  std::string build;
  std::string need;
  std::string state;
  std::vector<std::string> flags;
  std::string verdict;
  std::optional<Day> needed_by;
  std::optional<Day> promised;
  std::int64_t price_cents = 0;
  int parts_here = 0;
  int parts_needed = 0;
};

/// A mech result worth a line on the order page: "Range of gears: 306 %, 2.1 to 6.4 m".
struct NumberView {
  std::string name;
  std::string value;      // with unit
  std::string us;         // US customary, may be empty
  std::string how;        // from which parts and which method
};

/// A question that only a person can decide, as this bike asks it.
struct QuestionView {
  std::string id;         // "C-013"
  std::string sentence;   // what is asked; yes means that all is well
  std::string severity;   // STOP, FIT, WORK, CLAIM
  std::string owner;      // "wheel builder"
  std::vector<std::string> people;  // names of those who are that
  bool open = false;      // nobody has said yes or no
  std::string verdict;    // what the answer comes to, in the trade's words
  std::string answer;     // "yes", "no", "not yet"; empty: nobody said anything
  std::string who;
  std::optional<Day> day;
  std::string note;
  std::string before;     // an answer about other parts, in words; may be empty
  std::vector<std::string> slots;
  std::string source;
};
struct OrderQuestions {
  std::string order;
  std::string rider;
  std::string state;
  std::vector<QuestionView> questions;
};
/// What a person says to one of them.
struct AnswerGiven {
  std::string question;
  std::string answer;  // "yes", "no", "not yet"
  std::string note;    // one line, may be empty
  std::int64_t revision = 0;  // of the order the person looked at
};

/// What the customer means to spend, beside the price as it runs now.
struct BudgetView {
  std::optional<std::int64_t> at_most_cents;  // none: they were asked, and nothing was said
  std::optional<std::int64_t> over_cents;     // of the price; 0: within. None without an amount
};
struct FollowUpView {
  Day day = {};
  std::string about;     // who calls whom about what
  bool is_due = false;   // its day has come
};
struct OrderView {
  OrderLine line;
  RiderView rider;
  NeedView need;
  std::string build_id;
  std::string held_because;
  std::vector<StepView> states;
  std::optional<Day> opened;
  std::int64_t deposit_cents = 0;
  std::optional<BudgetView> budget;
  std::optional<FollowUpView> follow_up;
  bool may_be_followed_up = false;  // before Agreed: budget and follow-up can be changed
  SpecView spec;
  OutlineView outline;
  std::string no_promise;  // why no day can be asked for; empty when one can
  std::vector<NumberView> numbers;
  std::vector<QuestionView> questions;  // open ones first
  std::int64_t revision = 0;
};

/// What a customer said of money; without an amount and with nothing said false, nobody asked.
struct BudgetGiven {
  std::optional<std::int64_t> at_most_cents;
  bool nothing_said = false;
  std::int64_t revision = 0;
};
/// The day on which somebody comes back to the customer; none: it is done.
struct FollowUpGiven {
  std::optional<Day> day;
  std::string about;     // who calls whom about what; when it is done, what came of it: may be empty
  std::int64_t revision = 0;
};

/// What a desk enters for a new order.
struct NewOrder {
  RiderView rider;
  NeedView need;
  std::string build;
  std::optional<Day> needed_by;
  std::optional<BudgetGiven> budget;       // their revisions count for nothing
  std::optional<FollowUpGiven> follow_up;
  std::map<std::string, std::string> choices;  // slot -> part, may be empty
  std::string state = "Draft";  // or "Enquiry": a first talk, of which little is known yet
};

}  // namespace rollwright::shop
