#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "base/clock.hpp"

/// What the use cases answer, ready to be shown: plain text, whole cents, kilograms, ISO days. The
/// JSON of the command line's --json and of the HTTP API has the same names (web/openapi.yaml).
namespace rollwright::shop {


struct PartLine {
  std::string id;
  std::string name;
  std::string maker;
  std::string kind;
  std::int64_t price_cents = 0;
  std::optional<double> mass_kg;  // empty: not known
};

/// One finding of the fit rules.
struct FindingView {
  std::string rule;      // "C-072"
  std::string severity;  // STOP, FIT, WORK, CLAIM
  std::string verdict;   // in the trade's words
  std::string sentence;
  std::string source;
  std::vector<std::string> slots;
};

struct SlotView {
  std::string slot;
  std::string name;
  bool required = false;
  int quantity = 1;
  std::optional<PartLine> part;
  std::string verdict;        // worst finding that touches this slot; empty when nothing is chosen
  std::string here;           // "in store", "put by", "9 Dec", "not bought", ""
  std::optional<Day> here_on;
  int open = 0;               // parts that can still be chosen with the others
  int of = 0;                 // parts that the catalogue offers for the slot
};

/// What the best complete bikes with the choices come to, each figure by a bike of its own.
struct BestView {
  std::optional<std::int64_t> price_cents;  // of the cheapest
  std::optional<double> mass_kg;            // of the lightest, over the masses that are known
  int masses_not_known = 0;                 // pieces of the lightest
  std::optional<Day> ready;                 // of the soonest
  bool proven = false;                      // nothing better exists
};

struct SpecView {
  std::vector<SlotView> slots;
  std::vector<FindingView> findings;  // everything but plain fits, worst first
  std::vector<std::string> missing;   // names of required slots that are empty
  std::string verdict;                // overall
  int rules_checked = 0;
  int rules_not_known = 0;
  int rules_do_not_apply = 0;
  std::int64_t price_cents = 0;
  double mass_kg = 0;
  int masses_not_known = 0;
  BestView best;         // of the complete bikes with today's choices
  std::string status;    // of the best of them: open, ..., closed; empty when not reckoned
  std::string fitting;   // how many fit with every fact known, in digits; empty when not counted
  std::string possible;  // ... and those of which a fact is not known
  bool count_exact = false;  // false: both are upper bounds
};

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

struct OrderView {
  OrderLine line;
  RiderView rider;
  NeedView need;
  std::string build_id;
  std::string held_because;
  std::vector<StepView> states;
  std::optional<Day> opened;
  std::int64_t deposit_cents = 0;
  SpecView spec;
  OutlineView outline;
  std::string no_promise;  // why no day can be asked for; empty when one can
  std::vector<NumberView> numbers;
  std::vector<QuestionView> questions;  // open ones first
  std::int64_t revision = 0;
};

struct ChoiceView {
  PartLine part;
  std::string status;  // open, open with adapter, open with care, not known, closed, not proven
  bool chosen = false;
  std::string note;    // the adapter or care, or the most telling sentence when closed
  std::vector<std::string> touches;  // slots that the note is about
  /// Of the best complete bike with this part against the best with today's choices, each figure by
  /// bikes of its own. Empty: there is none, or it is not known.
  std::optional<std::int64_t> price_difference_cents;
  std::optional<double> mass_difference_kg;
  std::optional<int> ready_difference_days;  // calendar days; negative: sooner
  bool proven = false;  // the status and the differences are shown to be right
  std::string here;
};
struct SlotChoicesView {
  std::string order;
  std::string slot;
  std::string name;
  bool may_be_empty = false;
  std::vector<ChoiceView> choices;
};

/// One choice given up for another part, or for none; empty ids and names are no part.
struct ChangeView {
  std::string slot;
  std::string slot_name;
  std::string from;
  std::string from_name;
  std::string to;
  std::string to_name;
};
/// Changes after which a complete bike exists; no part of them would do.
struct RepairView {
  std::vector<ChangeView> changes;
  std::optional<std::int64_t> price_difference_cents;  // of the changed parts alone
  std::optional<double> mass_difference_kg;
  std::string verdict;   // of the cheapest complete bike after them
  std::string sentence;  // "Change the chain: Chain, 11 speeds for Chain, 12 speeds."
};

struct ClashView {
  std::string order;
  std::string slot;
  std::string part;
  std::vector<std::string> choices;    // "rear hub: Hub gear, 8 speeds, 36 holes"
  std::vector<FindingView> rules;      // sentences, most telling first
  std::vector<RepairView> opens;       // the fewest changes that would open the part, best first
};

/// What a whole bike is to be best in.
struct CompletionWish {
  std::string aim = "cheapest";  // cheapest, lightest, soonest, weighted
  double cents_per_kg = 0;       // for weighted: what a kilogram less is worth
  double cents_per_day = 0;      // and a calendar day sooner
};

/// A part for a slot that is not chosen so far.
struct FillView {
  std::string slot;
  std::string slot_name;
  std::string part;
  std::string name;
  std::int64_t price_cents = 0;    // of all pieces of the slot
  std::optional<double> mass_kg;
};
/// A whole bike from the choices so far and the best parts for the slots that are open.
struct CompletionView {
  std::string aim;  // cheapest, lightest, soonest, weighted; between: a trade-off
  std::string sentence;
  std::int64_t price_cents = 0;
  double mass_kg = 0;
  int masses_not_known = 0;
  std::optional<Day> ready;  // empty: some part cannot be had
  std::string verdict;
  bool proven = false;       // nothing better exists
  std::vector<FillView> fills;  // of the slots that are not chosen so far
};

struct CurvePoint {
  Day day = {};
  double probability = 0;
};
struct HoldView {
  std::string what;   // "Rear hub, on order since 9 November"
  std::string kind;   // part, queue, work
  double share = 0;   // of the draws in which it was what the bike waited for
};
struct PromiseView {
  std::string order;
  std::string sentence;
  std::optional<Day> promised;
  std::optional<double> chance_kept;  // of the promised day
  Day day_50 = {};
  Day day_80 = {};
  Day day_90 = {};
  Day day_95 = {};
  Day day_90_simulated = {};          // before the shop's own record set the odds right
  int promises_known = 0;             // of that record: with the day on which the bike was ready
  std::vector<CurvePoint> curve;
  std::vector<HoldView> holds;
  int draws = 0;
  std::int64_t placements = 0;
  double seconds = 0;
};

struct BuyLine {
  std::string part;
  std::string name;
  std::string article;         // the supplier's own number; may be empty
  int quantity = 0;            // in packs; more than needed where a price break pays for it
  int needed = 0;
  std::vector<std::string> orders;
  Day order_by = {};           // last day on which it still comes in time
  Day buy_on = {};             // when it is best bought
  Day needed_by = {};
  bool too_late = false;       // even bought at once it comes too seldom in time
  double in_time = 0;          // chance of being there by needed_by, 0 to 1
  std::int64_t unit_cost_cents = 0;
  std::int64_t total_cents = 0;
  int lead_days_50 = 0;        // working days to a good part in hand
  int lead_days_90 = 0;
  std::string why;             // of pieces for the shelf: their levels; else empty
  std::string basis;           // which receipts
};
struct BuyGroup {              // one order to one supplier
  std::string supplier;
  std::string name;
  Day day = {};
  std::string cut_off;         // "14:00"
  Day dispatch = {};           // on which an order placed now leaves the supplier
  int minutes_left = 0;        // to today's cut-off; 0 when nothing leaves today any more
  std::string clock;           // "order within 1 h 25 min to make today's dispatch"
  std::vector<BuyLine> lines;
  std::int64_t goods_cents = 0;
  std::int64_t freight_cents = 0;
  std::int64_t surcharge_cents = 0;
  std::string note;            // "38 more and freight is free"
};
struct KitView {
  std::string order;
  Day day = {};                // on which it has to be complete
  int to_buy = 0;
  int under_way = 0;
  double complete = 0;         // chance on that day, 0 to 1
  std::string weakest;         // the part least likely to be there
  std::string weakest_name;
  double weakest_there = 0;
};
struct BuyView {
  std::string sentence;
  std::vector<BuyGroup> groups;       // by day
  std::vector<KitView> kits;          // not all in hand, by day
  std::vector<std::string> loans;     // pieces one order could lend another, with its replacement
  std::vector<std::string> no_offer;  // parts nobody sells us
  std::int64_t cost_cents = 0;        // of all groups, freight and charges too
  std::int64_t when_needed_cents = 0; // the same with each line bought by itself when needed
  bool proven = false;                // nothing costs less
};

struct TodayLine {
  std::string kind;      // at risk, to buy, arriving, to claim, to check, on the stands, to hand over,
                         // first service
  std::string sentence;
  std::string order;     // may be empty
  std::string link;      // page to go to: "/orders/2041"
  std::string action;    // the one thing to do
};
struct TodayView {
  Day day = {};
  std::vector<TodayLine> lines;
};

struct PartRow {
  PartLine part;
  std::string kind_name;
  int on_shelf = 0;
  int put_by = 0;
  int under_way = 0;
  int known = 0;
  int measured = 0;
  int not_known = 0;
  bool gone = false;
};
struct FactView {
  std::string attribute;
  std::string name;
  std::string value;     // empty when not known
  std::string us;
  std::string standing;
  std::string source;
  std::string by;
  std::optional<Day> date;
  std::string help;
  std::string unit;                // that a bare number is taken in; empty for counts and words
  std::string type;                // flag, number, word, words
  std::vector<std::string> words;  // that it can be; empty: any
  bool decisive = false;
};
struct OfferView {
  std::string supplier;
  std::string article;
  std::vector<std::string> prices;  // "from 10: 4.20"
  std::string availability;
  double lead_days_50 = 0;
  double lead_days_90 = 0;
  std::string basis;
};
struct PurchaseView {
  std::string id;
  std::string supplier;
  std::string part;
  std::string name;
  int quantity = 0;
  std::string order;
  Day placed = {};
  std::optional<Day> confirmed;
  std::string state;
};
struct PartView {
  PartRow row;
  std::vector<FactView> facts;
  std::vector<OfferView> offers;
  std::vector<PurchaseView> purchases;
  std::vector<std::string> orders;
};
struct PartsView {
  std::vector<PartRow> parts;
  std::vector<PurchaseView> purchases;  // under way, all parts
};

struct FoundLine {
  std::string kind;  // order, part, rider
  std::string text;
  std::string link;
};

struct NamedView {
  std::string id;
  std::string name;
};
struct SlotOfBuild {
  std::string slot;
  std::string name;
  bool required = false;
};
struct BuildView {
  std::string id;
  std::string name;
  bool maker_built = false;
  std::vector<SlotOfBuild> slots;
};
struct ShopView {
  std::string name;
  std::string town;
  std::string currency;
  bool invented = false;
  Day today = {};
  std::vector<BuildView> builds;
  std::vector<NamedView> kinds;
  std::vector<NamedView> people;
  std::vector<std::string> routes;
  std::vector<std::string> states;
};

struct ImportReport {
  std::map<std::string, int> counts;  // "parts" -> 194
  std::vector<std::string> problems;  // each with file, line, field, value; empty when imported
  bool imported = false;
};

struct JournalReport {
  std::int64_t entries = 0;
  bool whole = false;
  std::string sentence;
  std::string last_hash;
};

/// What a desk enters for a new order.
struct NewOrder {
  RiderView rider;
  NeedView need;
  std::string build;
  std::optional<Day> needed_by;
  std::map<std::string, std::string> choices;  // slot -> part, may be empty
  std::string state = "Draft";  // or "Enquiry": a first talk, of which little is known yet
};

/// A rule that asks for a fact.
struct AskingRule {
  std::string rule;      // "C-072"
  std::string severity;
  std::string asks;      // "head tube, upper seat of the frame and upper seat of the headset"
};
/// A fact that rules ask for and nobody knows: of a part, or of an order or its rider.
struct NotKnownFact {
  std::string part;       // empty: of the order or the rider
  std::string of;         // the part's name, "order 2041", "rider of order 2041"
  std::string attribute;
  std::string name;
  std::string help;       // how to measure it or where to read it
  std::string unit;       // that a bare number is taken in; empty for counts and words
  std::string type;       // flag, number, word, words
  std::vector<std::string> words;   // that it can be; empty: any
  std::string severity;             // of the worst rule
  std::vector<std::string> orders;  // open orders that it holds
  /// Orders still being specified that could be offered the part if this were known.
  std::vector<std::string> offers;
  int findings = 0;                 // rules it leaves open on them, counted bike by bike
  std::vector<AskingRule> rules;
  std::string who;        // who can find out, and how
};
struct NotKnownView {
  std::string sentence;
  std::vector<NotKnownFact> facts;  // that which holds most orders, then offers, first
};
/// A fact as a person gives it.
struct FactGiven {
  std::string value;      // "31.8 mm", "1.25 in", "yes", "IS|PM"
  std::string standing = "measured";  // or "known": read in a document
  std::string by;         // who measured, a person of the shop
  std::string source;     // what it was measured with; for a known fact the document
  std::optional<Day> day; // of measuring (empty: today) or of the document
};

/// What an order's parts, rider and route put into the fields of a bench aid.
struct AidFieldView {
  std::string key;
  std::string value;   // as a person types it; of the route its name
  std::string origin;  // "crankset (Arms 170 mm): crank arm length"
};
struct AidQuestionView {
  std::string key;
  std::string sentence;
};
struct AidFieldsView {
  std::string order;
  std::string aid;
  std::string end;
  std::vector<std::string> ends;
  std::string not_here;  // why the aid has nothing to say of this bike
  std::vector<AidFieldView> fields;
  std::vector<AidQuestionView> questions;
  std::string file;  // the route's content, where the aid takes one
};

}  // namespace rollwright::shop
