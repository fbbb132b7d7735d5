#pragma once

#include <string>
#include <vector>

/// What the use cases of labels ask and answer; the JSON of --json and the HTTP API has the same
/// names.
namespace rollwright::shop {

/// Which labels, on what.
struct LabelWish {
  std::vector<std::string> kinds;   // order, kit, wheel, bin, person, tool; empty: what is named below
  std::vector<std::string> orders;  // numbers
  std::vector<std::string> parts;   // numbers; empty with kind bin: every part on the shelf
  std::vector<std::string> people;  // ids or names; empty with kind person: everybody
  std::vector<std::string> tools;   // ids; empty with kind tool: every tool
  std::string sheet = "a4-3x8";
  int from = 1;        // first free position of the first sheet
  bool rider = false;  // the rider's short name on labels of orders
};

/// Labels as they are sold (data/trade/label_sheets.csv).
struct LabelSheetView {
  std::string id;
  std::string name;
  double page_width_mm = 0;
  double page_height_mm = 0;
  int columns = 1;
  int rows = 1;
  double label_width_mm = 0;
  double label_height_mm = 0;
  double left_mm = 0;
  double top_mm = 0;
  double gap_across_mm = 0;
  double gap_down_mm = 0;
};

struct LabelView {
  std::string kind;    // "wheel"
  std::string what;    // "Front wheel"
  std::string number;  // printed large
  std::string code;    // "RW:W:2041:FRONT:A"
  std::vector<std::string> lines;
  int page = 1;
  int position = 1;          // on its page
  double module_mm = 0;      // of its QR code
  double figures_mm = 0;     // height of the number's figures; 7.5 are read at 1.5 m
  bool is_whole = true;      // false when its lines end in "…"
};

struct LabelsView {
  std::string sentence;
  std::string sheet;  // the one that was asked for
  int from = 1;
  int pages = 0;
  std::vector<LabelView> labels;
  std::vector<LabelSheetView> sheets;  // all there are
};

}  // namespace rollwright::shop
