#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/clock.hpp"
#include "shop/photo_views.hpp"

/// What comes in, as it is shown and as a person writes it down.
namespace rollwright::shop {

struct LegView {
  std::string leg;         // "getting ready", "sea passage in a shared container"
  std::optional<Day> done;
};

/// A way in which what is still to come could travel (supply::freight_modes).
struct FreightModeView {
  std::string mode;
  std::string carrier;
  bool usual = false;                       // how it comes as things stand
  std::optional<std::int64_t> cost_cents;   // of the consignment
  std::optional<std::int64_t> extra_cents;  // beyond how it comes as things stand
  Day day_50 = {};
  Day day_90 = {};
  std::string basis;
};

struct ClaimView {
  int number = 1;           // on its line, from 1
  std::string trouble;      // short, wrong, damage seen, damage hidden
  int pieces = 1;
  std::string carrier;
  Day found = {};
  Day tell_by = {};
  int days_left = 0;        // calendar days; negative: over
  std::string clock;        // "2 days left to claim it", "told on 24 Nov", "credited on ..."
  bool pressing = false;    // nobody was told yet, and today or tomorrow is the last day, or it is over
  std::string terms;
  std::optional<Day> told;
  std::optional<Day> settled;
  std::string outcome;
  std::string note;
  std::vector<PhotoView> photos;
};

/// Pieces that were booked in together.
struct DeliveryView {
  Day day = {};
  int pieces = 1;
  std::string condition;  // good, damaged, wrong, short
};

struct MarkedView {
  std::string serial;
  std::string lot;
  int pieces = 1;
  std::string place;  // in store, quarantined, sent back
  Day day = {};
};

/// One purchase line as it comes in.
struct ArrivalLine {
  std::string id;
  std::string part;
  std::string name;
  std::string supplier;
  std::string supplier_name;
  std::optional<std::string> order;      // it was bought for
  std::vector<std::string> orders;       // that get its pieces as things stand, with their riders
  Day placed = {};
  std::optional<Day> confirmed;
  std::string state;                     // Placed, Confirmed ...
  std::string word;                      // expected, part here, to look at, quarantined ...
  int ordered = 1;
  int to_come = 0;                       // pieces under way
  int to_look_at = 0;
  int accepted = 0;
  int quarantined = 0;
  int sent_back = 0;
  int written_off = 0;
  std::optional<Day> day_50;             // of what is still to come
  std::optional<Day> day_90;
  int receipts = 0;                      // that the odds rest on
  std::string basis;
  std::optional<Day> needed_by;          // the first of the orders that get it
  std::optional<double> in_time;         // chance of being here on that day
  int days_overdue = 0;                  // working days beyond the day confirmed or likely
  bool asks_serial = false;              // the kind carries a number on each piece
  std::string mode;                      // of freight; empty: the supplier names none
  std::string where;                     // "on the way: customs examination", or empty
  std::vector<LegView> legs;
  std::vector<FreightModeView> modes;
  std::vector<MarkedView> marked;
  std::vector<ClaimView> claims;
  std::vector<DeliveryView> deliveries;  // newest first
  std::vector<PhotoView> photos;         // of the delivery itself
};

/// Lines that belong together on the page: one day, what is overdue, what has no day.
struct ArrivalGroup {
  std::string kind;        // overdue, here, day
  std::optional<Day> day;  // of "day"
  std::vector<ArrivalLine> lines;
};

struct ArrivalsView {
  Day today = {};
  std::string sentence;
  std::vector<ArrivalGroup> groups;       // at goods-in, overdue, then by day
  std::vector<ArrivalLine> quarantine;    // lines with pieces that may not be built in
  std::vector<ArrivalLine> claims;        // lines with a claim that is not settled, by its last day
  std::vector<ArrivalLine> lately;        // booked in within the last two weeks, newest first
  std::vector<std::string> steps;         // words that goods_step takes
  std::vector<std::string> troubles;
  std::vector<std::string> carriers;
};

/// A delivery of one line: so many pieces came, of which so many are not good.
struct Received {
  int quantity = 0;    // pieces that came
  int to_look_at = 0;  // of these: unloaded, not looked at yet
  int wrong = 0;
  int damaged = 0;     // seen on the outside or at once
  int hidden = 0;      // damage found in the box
  int missing = 0;     // beside these: the paper names them, the box does not hold them
  std::vector<std::string> serials;  // of the good pieces, where the kind asks for them
  std::string lot;
  std::string carrier;  // who brought it; left out: of the line's way of freight, else parcel
  std::string note;
};

/// A delivery that was counted wrong, or booked in on a line to which it does not belong.
struct MiscountGiven {
  int counted = 0;         // pieces that were booked in
  int right = 0;           // of this line that really came
  std::optional<Day> day;  // on which they were booked in; left out: the newest with so many pieces
  /// Too many counted: numbers of pieces that never were there. Too few: those of the further ones.
  std::vector<std::string> serials;
  std::string right_line;  // the line to which the pieces belong that are too many here; or empty
  std::string why;         // one line, never empty
};

/// Something that happens to pieces of a line after they came.
struct GoodsStepGiven {
  std::string step;     // a word of ArrivalsView::steps
  int pieces = 0;
  std::string trouble;  // for quarantine, find bad and write off
  std::vector<std::string> serials;
  std::string carrier;
  std::string note;
};

/// What was said to the supplier or carrier, or what came of it.
struct ClaimStep {
  int number = 0;       // of the claim on its line; 0: the only one that is open
  std::string what;     // told, credited, sent again, refused
  std::string note;
};

/// A part of which the shop keeps a small stock (supply/stock_list.hpp).
struct StockLineView {
  std::string part;
  std::string name;
  std::string supplier_name;
  int free = 0;        // on the shelf, for no order
  int under_way = 0;   // bought for no order
  int taken = 0;       // of these by orders, as things stand
  int at = 0;          // at so many or fewer it is bought
  int up_to = 0;
  int to_buy = 0;
  double at_hand = 0;  // share of the time with a piece on the shelf
  std::string why;
  double per_week = 0;                // pieces used in five working days
  std::string used;                   // what that rests on: "41 used on 30 occasions since ..."
  std::optional<double> run_out;      // chance that more is asked for before the next delivery
  std::optional<Day> next_by;         // on which that is here, nine in ten
  std::string next;                   // which that is, in words
  std::optional<std::string> next_line;  // its purchase line; none: one that were ordered today
};
struct SmallStockView {
  std::string sentence;
  std::vector<StockLineView> lines;  // those to buy first, then by the chance of running out
  std::string how;                   // from when on a part gets levels
};
struct UseGiven {
  int quantity = 0;
  std::string what_for;  // "repair"
};

struct LegGiven {
  std::string leg;        // left out: the next that is not done
  std::optional<Day> day;  // left out: today
};

}  // namespace rollwright::shop
