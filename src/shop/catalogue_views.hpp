#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "base/clock.hpp"
#include "trade/column_mapping.hpp"

/// What is asked and answered about suppliers' lists; JSON as for shop/part_views.hpp.
namespace rollwright::shop {

/// A list as a desk or the command line hands it in.
struct GivenList {
  std::string file;  // its name; stands in facts and sentences
  std::string text;  // what is in it
  std::string supplier;
  std::optional<trade::ColumnMapping> mapping;  // absent: as proposed
  std::optional<Day> day;                       // of the list; absent: today
  /// "HB-0412 mass": measured facts that the person lets go for the list's word.
  std::vector<std::string> take_over;
};

struct HowToTakeIn {
  bool dry_run = false;
  bool skip_bad_rows = false;
  std::string as_seen;  // of the preview that the person looked at; empty: none
};

struct ColumnView {
  std::string heading;
  std::vector<std::string> first_values;
  std::vector<std::string> words;
  int filled = 0;
  trade::SheetColumn proposal;
  std::string why;
};
struct MappingView {
  std::string file;
  int rows = 0;
  std::string sentence;  // how the file was read
  bool saved = false;    // this supplier's lists were read before
  trade::ColumnMapping mapping;
  std::vector<ColumnView> columns;
  std::string kind_why;
  std::string decimal_why;
};

struct ListChangeView {
  std::string what;
  std::string from;
  std::string to;
};
struct ContradictionView {
  std::string attribute;
  std::string name;
  std::string measured;
  std::string by;
  Day date = {};
  std::string listed;
  bool taken_over = false;
};
struct ListProblemView {
  int line = 0;  // 0: of the whole list
  std::string field;
  std::string value;
  std::string sentence;
};
struct ListRowView {
  int line = 0;
  std::string fate;  // new, changed, same, refused
  std::string article;
  std::string part;
  std::string name;
  std::string kind;
  std::vector<ListChangeView> changes;
  std::vector<ContradictionView> contradictions;
  std::vector<std::string> notes;
  std::vector<ListProblemView> problems;
};
struct PreviewView {
  std::string file;
  std::string supplier;
  std::string supplier_name;
  Day day = {};
  std::string sentence;
  std::map<std::string, int> counts;  // rows by fate
  int contradictions = 0;
  std::vector<ListProblemView> problems;  // of the mapping; nothing can be taken in while there are any
  std::vector<ListRowView> rows;
  std::vector<std::string> left_out;  // headings that go nowhere
  std::string refused_rows;           // CSV with a further column that says why
  std::string as_seen;                // grows different when the outcome of any row does
};
struct TakenListView {
  int number = 0;
  std::string supplier;
  std::string supplier_name;
  std::string file;
  Day day = {};
  Day taken = {};
  std::string who;
  int added = 0;
  int changed = 0;
  int same = 0;
  int refused = 0;
  bool undone = false;
};
struct TakeInView {
  bool taken = false;
  std::string sentence;
  std::optional<TakenListView> list;
  PreviewView preview;
};
struct UndoView {
  int number = 0;
  std::string sentence;
  std::vector<std::string> restored;
  std::vector<std::string> removed;
  std::vector<std::string> discontinued;  // new parts that something names by now
  std::vector<std::string> left;          // changed by others since; with a sentence each
};

struct AttributeChoiceView {
  std::string id;
  std::string name;
  std::string type;  // flag, number, word, words
  std::string unit;
  std::vector<std::string> units;
  std::vector<std::string> choices;
};
struct KindChoiceView {
  std::string id;
  std::string name;
  std::vector<std::string> attributes;
};
struct SupplierChoiceView {
  std::string id;
  std::string name;
  bool has_mapping = false;
};
/// What the page of suppliers' lists needs before a file is chosen.
struct CatalogueView {
  std::vector<SupplierChoiceView> suppliers;
  std::vector<KindChoiceView> kinds;
  std::vector<AttributeChoiceView> attributes;
  std::vector<std::string> targets;       // that are no attributes
  std::vector<std::string> availability;  // its words
  std::vector<TakenListView> lists;       // newest first
  std::int64_t most_bytes = 0;
  int most_rows = 0;
};

}  // namespace rollwright::shop
