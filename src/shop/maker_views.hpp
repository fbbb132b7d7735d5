#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/clock.hpp"

/// A bike that a maker builds, as it is shown and written down.
namespace rollwright::shop {

struct MakerLineView {
  std::string position;
  std::string position_name;
  std::string part;       // of our catalogue, or empty
  std::string name;       // of the part; the article where the catalogue does not have it
  std::string article;
  int quantity = 1;
  std::string options;
  std::string serial;
  std::string stop_rules;    // of a form: another part there is refused unless we said yes before
  bool has_number = false;   // a part that carries a number, which is to be stated
};
struct MakerFormView {
  int number = 0;            // 0: not sent yet
  int version = 0;
  std::string maker;         // name of the supplier
  std::optional<Day> wanted;
  std::optional<Day> sent;
  std::string how;
  std::string who;
  std::vector<MakerLineView> lines;
};
struct MakerListView {
  std::string kind;          // confirmed, as built
  int number = 0;
  std::string reference;
  std::string file;          // empty: typed in
  Day day = {};
  std::string who;
  bool counts = false;       // what is held against the specification
  std::vector<MakerLineView> lines;
};
/// One line: as signed, as confirmed, as built. Words of what each list says of it: "same", "other
/// part" ...; empty where there is no such list.
struct MakerTableRow {
  std::string position;
  std::string position_name;
  std::string ordered;
  std::string confirmed;
  std::string confirmed_is;
  std::string built;
  std::string built_is;
};
struct DifferenceView {
  std::string key;           // what an answer names
  std::string position;
  std::string position_name;
  std::string what;          // other part, missing, extra, other quantity, other option
  std::string sentence;
  std::string standing;      // open, accepted, denied
  std::string ordered;
  std::string listed;
  std::vector<std::string> details;
  std::vector<std::string> stops;  // why it cannot be accepted; empty: it can
  std::vector<std::string> warns;  // what the rules say of the bike with it beside that
  std::optional<double> mass_change_kg;          // of the bike, where masses are known
  std::optional<std::int64_t> list_price_change_cents;  // of the parts, by the catalogue
  bool is_new_version = false;     // accepting changes the parts: the customer signs a version
  std::string answered;            // "accepted by Mara Lind on ...: why"; empty: nobody answered
};
struct DifferenceAnswerView {
  int number = 0;
  std::string position_name;
  std::string ordered;
  std::string listed;
  std::string answer;        // accepted, denied
  std::string why;
  std::string signed_by;
  std::int64_t price_change_cents = 0;
  std::string who;
  Day day = {};
  std::string list;          // "as built 1"
};
struct MakerView {
  std::string order;
  std::string state;
  std::string sentence;
  int signed_version = 0;
  std::vector<std::string> form_missing;  // why no form can be sent now
  MakerFormView form;        // the newest, or as it would be sent
  bool form_is_current = false;
  std::vector<std::string> papers;        // to come with the bike
  std::vector<MakerListView> lists;       // newest first
  std::vector<MakerTableRow> rows;
  std::vector<DifferenceView> differences;  // of the list that counts
  std::vector<DifferenceAnswerView> answers;  // newest first: part of the bike's record
  std::int64_t revision = 0;
};

struct MakerFormGiven {
  std::string who;
  Day wanted = {};
  std::string how;
};
struct MakerListGiven {
  std::string who;
  std::string kind;
  std::string reference;
  std::string file;          // name of the file that `csv` is from
  std::string csv;           // the file; empty: `lines` were typed in
  struct Line {
    std::string position;
    std::string part;
    std::string article;
    int quantity = 1;
    std::string options;
    std::string serial;
    std::string note;
  };
  std::vector<Line> lines;
};
struct DifferenceGiven {
  std::string who;
  std::string answer;              // accepted, denied
  std::vector<std::string> differences;  // keys; accepted ones are judged together
  std::string why;
  std::string signed_by;           // of the customer
  std::int64_t price_change_cents = 0;
  std::string list;                // that was looked at: "as built 1"
  std::int64_t revision = 0;
};

}  // namespace rollwright::shop
