#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "base/clock.hpp"

/// What the use cases of an order's life answer and take, as in shop/part_views.hpp.
namespace rollwright::shop {

/// Something that a person says with a move.
struct SayView {
  std::string key;   // "terms_shown"
  std::string ask;
  std::string as;    // yes, words, day, amount, operations
  bool needed = true;
  std::string photos_of;  // photographs of the bike's record that show it: boxes, maker; or empty
};
struct PersonMay {
  std::string id;
  std::string name;
};
struct NextMoveView {
  std::string to;
  bool is_back = false;
  std::string moved_by;             // "goods-in or the workshop lead"
  std::vector<PersonMay> people;    // who may move it, as far as the person decides
  std::vector<std::string> missing; // apart from what is said or given with the move
  std::vector<std::string> to_meet; // what is missing unless it is said or given with the move
  std::vector<SayView> to_say;
  std::string sentence;             // "Needs 2 things first." ...
};
struct FlagView {
  std::string flag;
  std::string reason;
  std::optional<Day> until;
  bool is_due = false;              // its day has come: look at it again
  std::string who;
  std::optional<Day> day;           // none: it came with an import
};
struct VersionView {
  int version = 0;
  std::string signed_by;
  std::string who;
  Day day = {};
  std::int64_t price_cents = 0;
  std::int64_t changes_cents = 0;   // of the price: what changes cost beside the parts
  std::vector<std::string> differences;  // to the version before
};
struct SaidView {
  std::string ask;
  std::string said;
};
struct MovedView {
  int number = 0;
  std::string from;
  std::string to;
  std::string by;
  Day day = {};
  std::vector<SaidView> said;
  std::string note;
};
/// How far a chosen part can still be changed.
struct FreezeView {
  std::string slot;
  std::string slot_name;
  std::string part;
  std::string name;
  std::string point;                // "F2"
  std::string word;                 // "bought"
  std::string why;                  // "on line P-3102, Back-ordered"
};
struct LifeView {
  std::string order;
  std::string state;
  std::string sentence;             // what is next, and what is missing
  int signed_version = 0;
  std::vector<std::string> changed_since_signed;
  std::vector<NextMoveView> next;
  std::vector<FlagView> flags;
  std::vector<std::string> all_flags;
  std::vector<FreezeView> freeze;
  std::int64_t price_to_sign_cents = 0;  // of the next version, as chosen now
  std::vector<VersionView> versions;  // newest first
  std::vector<MovedView> moves;       // newest first
  std::vector<std::string> done;      // what a move just did beside; else empty
  std::int64_t revision = 0;
};

struct MoneyLineView {
  std::string what;
  std::int64_t cents = 0;
  std::string why;
};
/// What a change comes to before anybody agrees to it.
struct ChangePriceView {
  std::string order;
  std::string sentence;
  std::string point;                // the furthest freeze point of what is given up
  std::string word;
  std::vector<MoneyLineView> lines;
  std::int64_t parts_cents = 0;     // difference of the parts' prices
  std::int64_t beside_cents = 0;    // what it costs beside them
  std::int64_t total_cents = 0;
  std::vector<std::string> findings;  // what the fit rules say of the bike as it would be, no care
  std::int64_t signed_price_cents = 0;  // of the version to be signed, when it is made so
  std::int64_t revision = 0;
};
struct ChangeGiven {
  std::map<std::string, std::optional<std::string>> choices;  // by slot; null: none
  std::string by;
  std::int64_t total_cents = 0;     // as it was shown
  std::int64_t revision = 0;
};
struct OpenLineView {
  std::string line;
  std::string part;
  std::string supplier;
  std::string state;
};
struct SettlementView {
  std::string order;
  std::string law;
  std::string sentence;
  std::vector<MoneyLineView> lines;
  std::int64_t back_cents = 0;      // to the customer; negative: still open
  std::vector<OpenLineView> open_lines;
};

struct MoveGiven {
  std::string to;                   // state, in the trade's words
  std::string by;                   // person's id or name
  std::map<std::string, std::string> said;
  std::string note;                 // one line, may be empty
  std::optional<Day> promised;      // to Agreed
  std::optional<std::int64_t> deposit_cents;
  std::int64_t revision = 0;
};
struct FlagChange {
  std::string flag;
  bool set = true;
  std::string reason;
  std::optional<Day> until;
  std::string by;
  std::int64_t revision = 0;
};
struct SignGiven {
  std::string signed_by;            // the customer
  std::string by;                   // of the shop
  std::int64_t price_cents = 0;     // as it was shown to the customer
  std::int64_t revision = 0;
};

}  // namespace rollwright::shop
