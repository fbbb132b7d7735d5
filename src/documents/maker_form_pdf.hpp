#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/clock.hpp"

namespace rollwright::documents {

/// The order form to the maker of a whole bike, ready for paper.
struct MakerFormPrint {
  std::string shop;
  std::string town;
  bool invented = false;   // demo data say so on paper too
  Instant printed = {};
  bool letter = false;     // on US Letter, else A4

  std::string order;
  std::string maker;
  int version = 0;         // of the signed specification
  int number = 0;          // of the form; 0: a draft that was not sent
  std::optional<Day> sent;
  std::string sent_by;
  std::optional<Day> wanted;
  struct Line {
    std::string position;  // name
    std::string position_id;
    std::string kind;      // of part; empty for how the bike is set up
    std::string part;      // number of our catalogue
    std::string name;
    std::string article;   // the maker's own, where the catalogue has it
    int quantity = 1;
    std::string options;
    std::string stop_rules;
    bool has_number = false;
  };
  std::vector<Line> lines;
  std::vector<std::string> papers;
};

/// Every line with its position, kind, part, article, quantity and options, and where no other part
/// may go; then the papers to come. The same form and moment give the same bytes.
[[nodiscard]] std::string maker_form_pdf(const MakerFormPrint& form);

/// The same lines as CSV, which the maker can fill in and send back: position, name, part, article,
/// quantity, options, stop_rules, has_number, serial (docs/formats.md).
[[nodiscard]] std::string maker_form_csv(const MakerFormPrint& form);

}  // namespace rollwright::documents
