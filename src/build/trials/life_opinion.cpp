#include "build/trials/life_opinion.hpp"

#include <sstream>

namespace rollwright::build::testing {
namespace {

// Typed by hand from the trade's notes on the states and moves of an order (common practice in shops
// that build to order), not from the table of the engine. Columns: from, to, bikes, who, what stops
// it, what has to be said. Four things go beyond the notes' own row: Money open stops what lets the
// bike go, since the balance must be paid; a stop at the stand, a question of severity STOP that is
// open, a part that does not fit and a value that nobody knows stop a release, since nothing leaves
// with an open stop; and what goes back to the stand names what was found. That the maker's form and
// list agree with what was signed is not said by a person: the form has to be of the signed version,
// each difference of the list answered, and what was denied put right before a release, and the
// numbers read at the bench are those of the list. What the customer means to spend is a budget, an
// amount or nothing said; it is said with the move unless the order has it, and never twice.
// A bike that is here for a visit is given back before its record is closed.
constexpr const char* kNotes = R"(
Enquiry      | Draft       | any         | adviser       | contact, use, height, mass, needed by, budget in words, budget twice, Held | budget
Draft        | Offer       | any         | adviser       | slot, misfit, unknown unowned, cost, offer over, Held, Stop-sale | window, valid_until
Offer        | Agreed      | any         | adviser       | slot, misfit, stop unknown, mass, offer expired, offer undated, unsigned, changed, no deposit, deposit too big, no promise, promise past, Held, Stop-sale, Change open | terms_shown, mass_confirmed, lever_side, region_class, recall_consent
Agreed       | Gathering   | shop-built  | buyer         | unsigned, changed, not bought, Held, Stop-sale, Change open |
Agreed       | At maker    | maker-built | buyer         | unsigned, changed, no form, old form, difference open, Held, Stop-sale, Change open | maker_number, maker_price, maker_week
Gathering    | Kitted      | shop-built  | goods-in lead | unsigned, changed, kit, misfit, stop unknown, fit unknown, Held, Stop-sale, Change open |
Kitted       | Building    | shop-built  | lead          | unsigned, changed, unplanned, Held, Stop-sale, Change open | instructions, tools_calibrated
Building     | Checking    | shop-built  | mechanic      | unsigned, changed, work, reading missing, reading outside, redo, stop, Held, Stop-sale, Change open |
At maker     | Under way   | maker-built | buyer         | unsigned, changed, no list, difference open, Held | finished, maker_photographs, maker_serials, box_list, battery_papers*, carrier
Under way    | Arrived     | maker-built | goods-in      | Held | delivery_paper, box_photographs, damage_noted
Arrived      | Finishing   | maker-built | goods-in lead | unsigned, changed, no as-built, difference open, arrival line, Held, Stop-sale, Change open | opened_in_time, box_list_matches, looked_over
Finishing    | Checking    | maker-built | mechanic      | unsigned, changed, work, final line, reading missing, reading outside, redo, stop, Held, Stop-sale, Change open |
Checking     | Ready       | any         | second        | unsigned, changed, own work, work unknown, checks, stop line, ride, reading missing, reading outside, redo, stop, value unknown, misfit, stop unknown, difference open, difference denied, other number, Held, Stop-sale, Change open | read_back*, papers_complete
Ready        | Handed over | fetched     | adviser       | unsigned, changed, talk line, stop, Held, Stop-sale, Change open, Money open | balance, rider_fitted, documents_given, counted, signature
Ready        | Boxed       | by freight  | packer        | unsigned, changed, stop, Held, Stop-sale, Change open, Money open | packing_list, box_photographs, battery_rules*
Boxed        | On the road | by freight  | packer        | Held, Stop-sale | insurance_value, receiver_told
On the road  | Delivered   | by freight  | packer        | Held |
Delivered    | Handed over | by freight  | adviser       | unsigned, changed, talk line, stop, Held, Stop-sale, Change open, Money open | balance, rider_fitted, documents_given, counted, signature
Handed over  | In care     | any         | adviser owner | serial, Held | first_service, warranty_started
In care      | Closed      | any         | owner         | visit, Held | why_closed
Checking     | Building    | shop-built  | second lead   | not done, Held | operations, why_back
Checking     | Finishing   | maker-built | second lead   | not done, Held | operations, why_back
)";

// Cancelling: from any state before Handed over, by the owner; the hold does not keep it.
constexpr const char* kBeforeHandedOver[] = {
    "Enquiry", "Draft",   "Offer",     "Agreed",   "Gathering", "Kitted", "Building",    "At maker",
    "Under way", "Arrived", "Finishing", "Checking", "Ready",     "Boxed",  "On the road", "Delivered"};

std::string trimmed(const std::string& text) {
  const auto first = text.find_first_not_of(' ');
  if (first == std::string::npos) return "";
  return text.substr(first, text.find_last_not_of(' ') - first + 1);
}

std::vector<std::string> pieces(const std::string& text, char between) {
  std::vector<std::string> found;
  std::istringstream stream(text);
  for (std::string piece; std::getline(stream, piece, between);) {
    found.push_back(trimmed(piece));
  }
  return found;
}

std::set<std::string> names(const std::string& text, char between) {
  std::set<std::string> found;
  for (const std::string& piece : pieces(text, between)) {
    if (!piece.empty()) found.insert(piece);
  }
  return found;
}

std::vector<OpinionRow> read_notes() {
  std::vector<OpinionRow> rows;
  std::istringstream lines(kNotes);
  for (std::string line; std::getline(lines, line);) {
    if (line.empty()) continue;
    std::vector<std::string> columns = pieces(line, '|');
    columns.resize(6);
    rows.push_back({.from = columns[0], .to = columns[1], .bikes = columns[2],
                    .who = names(columns[3], ' '), .stopped_by = names(columns[4], ','),
                    .says = names(columns[5], ',')});
  }
  for (const char* from : kBeforeHandedOver) {
    rows.push_back({.from = from, .to = "Cancelled", .bikes = "any", .who = {"owner"},
                    .stopped_by = {"no settlement", "other sum", "line open"},
                    .says = {"reason", "settlement"}});
  }
  return rows;
}

bool has_bike(const OpinionRow& row, const LifeFacts& facts) {
  if (row.bikes == "shop-built") return !facts.maker_built;
  if (row.bikes == "maker-built") return facts.maker_built;
  if (row.bikes == "fetched") return !facts.by_freight;
  if (row.bikes == "by freight") return facts.by_freight;
  return true;
}

/// Something right to say for each key; yes where nothing else is known of it.
std::string right_words(const std::string& key) {
  for (const char* day : {"valid_until", "finished", "first_service"}) {
    if (key == day) return "2027-01-20";
  }
  if (key == "maker_price" || key == "insurance_value") return "2480.50";
  if (key == "settlement") return "120.00";
  if (key == "budget") return "2500";
  if (key == "operations") return "A-61 T-30";
  return "yes";
}

}  // namespace

const std::vector<OpinionRow>& opinion() {
  static const std::vector<OpinionRow> kRows = read_notes();
  return kRows;
}

const OpinionRow* opinion_on(const LifeFacts& facts, const std::string& to) {
  for (const OpinionRow& row : opinion()) {
    const bool here = row.from == trade::word_of(facts.state) && row.to == to;
    if (here && has_bike(row, facts)) return &row;
  }
  return nullptr;
}

LifeFacts facts_in_order(const LifeFacts& bike, const OpinionRow* row) {
  LifeFacts f = bike;
  f.today = parse_day("2026-11-25").value();
  f.by = "Ada";
  f.hats = {Hat::kOwner, Hat::kAdviser, Hat::kBuyer, Hat::kGoodsIn, Hat::kLead, Hat::kMechanic,
            Hat::kSecondPerson, Hat::kPacker};
  f.worked_on_it = {"Bo", "Cy"};
  f.has_contact = true;
  f.has_use = true;
  f.needed_by = parse_day("2027-02-01").value();
  f.signed_version = 2;
  f.price = {248050};
  f.deposit = {60000};
  f.promised = parse_day("2027-01-25").value();
  f.offer_valid_until = f.today;
  f.form_version = 2;
  f.has_maker_list = true;
  f.has_as_built = true;
  f.work_planned = true;
  f.test_ride_done = true;
  f.operations_done = {"A-60", "A-61", "T-30"};
  f.settlement = Money{12000};
  if (row == nullptr) return f;
  for (const std::string& key : row->says) {
    const bool only_electric = key.ends_with('*');
    if (only_electric && !f.electric) continue;
    const std::string plain = only_electric ? key.substr(0, key.size() - 1) : key;
    f.said[plain] = right_words(plain);
  }
  return f;
}

const std::vector<Spoiler>& spoilers() {
  using F = LifeFacts;
  static const std::vector<Spoiler> kSpoilers = {
      {"contact", [](F& f) { f.has_contact = false; }},
      {"use", [](F& f) { f.has_use = false; }},
      {"height", [](F& f) { f.measures_not_known = {"height"}; }},
      {"mass", [](F& f) { f.measures_not_known.emplace_back("mass"); }},
      {"needed by", [](F& f) { f.needed_by.reset(); }},
      {"budget in words", [](F& f) {
         if (f.said.contains("budget")) f.said["budget"] = "not too much";
       }},
      {"budget twice", [](F& f) { f.budget_written = true; }},
      {"budget written", [](F& f) {
         f.budget_written = true;
         f.said.erase("budget");
       }},
      {"slot", [](F& f) { f.empty_slots = {"fork"}; }},
      {"misfit", [](F& f) { f.does_not_fit = {"The fork is too long."}; }},
      {"stop unknown", [](F& f) {
         f.stops_not_known = {"Nobody knows the rotor's limit."};
         f.fit_not_known = f.stops_not_known;
       }},
      {"fit unknown", [](F& f) { f.fit_not_known = {"Nobody knows the bore."}; }},
      {"unknown unowned", [](F& f) { f.not_known_unowned = {"the bore"}; }},
      {"cost", [](F& f) { f.costs_not_dated = {"bell"}; }},
      {"offer over", [](F& f) { if (f.said.contains("valid_until")) f.said["valid_until"] = "2026-11-24"; }},
      {"offer expired", [](F& f) { f.offer_valid_until = f.today - std::chrono::days(1); }},
      {"offer undated", [](F& f) { f.offer_valid_until.reset(); }},
      {"unsigned", [](F& f) { f.signed_version = 0; }},
      {"changed", [](F& f) { f.changed_since_signed = {"bell: Ding instead of Dong"}; }},
      {"no deposit", [](F& f) { f.deposit = {}; }},
      {"deposit too big", [](F& f) { f.deposit = f.price + Money{1}; }},
      {"no promise", [](F& f) { f.promised.reset(); }},
      {"promise past", [](F& f) { f.promised = f.today; }},
      {"not bought", [](F& f) { f.not_bought = {"rim"}; }},
      {"kit", [](F& f) { f.kit_not_put_by = {"rim"}; }},
      {"no form", [](F& f) { f.form_version = 0; }},
      {"old form", [](F& f) { f.form_version = 1; }},
      {"no list", [](F& f) { f.has_maker_list = false; }},
      {"no as-built", [](F& f) { f.has_as_built = false; }},
      {"difference open", [](F& f) { f.differences_open = {"saddle (other part)"}; }},
      {"difference denied", [](F& f) { f.differences_denied = {"bell (missing)"}; }},
      {"other number", [](F& f) { f.numbers_otherwise = {"motor: M2, and M1 in the list"}; }},
      {"unplanned", [](F& f) { f.work_planned = false; }},
      {"work", [](F& f) { f.work_open = {"A-10"}; }},
      {"checks", [](F& f) { f.checks_open = {"T-10"}; }},
      {"reading missing", [](F& f) { f.readings_missing = {"stem bolts"}; }},
      {"reading outside", [](F& f) { f.readings_outside = {"stem bolts"}; }},
      {"redo", [](F& f) { f.redo_open = {"A-61"}; }},
      {"stop", [](F& f) { f.stops_open = {"The stem is cracked."}; }},
      {"value unknown", [](F& f) { f.values_not_known = {"torque of the stem"}; }},
      {"ride", [](F& f) { f.test_ride_done = false; }},
      {"arrival line", [](F& f) { f.arrival_lines_open = {"A7"}; }},
      {"final line", [](F& f) { f.final_lines_open = {"F3"}; }},
      {"stop line", [](F& f) { f.stop_lines_open = {"D4"}; }},
      {"talk line", [](F& f) { f.talk_lines_open = {"H3"}; }},
      {"own work", [](F& f) { f.worked_on_it.insert(f.by); }},
      {"work unknown", [](F& f) { f.worked_on_it.clear(); }},
      {"serial", [](F& f) { f.serials_missing = {"frame"}; }},
      {"no settlement", [](F& f) { f.settlement.reset(); }},
      {"other sum", [](F& f) { f.settlement = Money{11999}; }},
      {"visit", [](F& f) { f.visit_open = "first service"; }},
      {"line open", [](F& f) { f.lines_open = {"P-7 (rim)"}; }},
      {"not done", [](F& f) { f.operations_done = {"A-61"}; }},
      {"Held", [](F& f) { f.flags.insert("Held"); }},
      {"Change open", [](F& f) { f.flags.insert("Change open"); }},
      {"Date at risk", [](F& f) { f.flags.insert("Date at risk"); }},
      {"Stop-sale", [](F& f) { f.flags.insert("Stop-sale"); }},
      {"Claim open", [](F& f) { f.flags.insert("Claim open"); }},
      {"Money open", [](F& f) { f.flags.insert("Money open"); }},
  };
  return kSpoilers;
}

std::string hat_name(Hat hat) {
  switch (hat) {
    case Hat::kOwner: return "owner";
    case Hat::kAdviser: return "adviser";
    case Hat::kBuyer: return "buyer";
    case Hat::kGoodsIn: return "goods-in";
    case Hat::kLead: return "lead";
    case Hat::kMechanic: return "mechanic";
    case Hat::kSecondPerson: return "second";
    case Hat::kPacker: return "packer";
  }
  return "";
}

}  // namespace rollwright::build::testing
