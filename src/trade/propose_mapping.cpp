#include "trade/propose_mapping.hpp"

#include <algorithm>
#include <set>

#include <fmt/format.h>

#include "base/text.hpp"
#include "trade/heading_words.hpp"

namespace rollwright::trade {
namespace {

constexpr std::size_t kMostWords = 24;
constexpr int kMostCompared = 300;  // rows compared with what the book knows

/// A row whose article the book knows, with its part.
struct KnownRow {
  const CsvRow* row;
  const Part* part;
};

/// Votes for the decimal comma minus votes for the point: a number with one such sign that does not
/// part a group of three.
int comma_votes(const SupplierSheet& sheet) {
  int votes = 0;
  for (std::size_t i = 0; i < sheet.rows.size() && i < 500; ++i) {
    for (const std::string& cell : sheet.rows[i].cells) {
      if (cell.find_first_not_of("0123456789.,") != std::string::npos) continue;
      for (const auto& [sign, vote] : {std::pair(',', 1), std::pair('.', -1)}) {
        const std::size_t at = cell.find(sign);
        if (at == std::string::npos || at == 0 || cell.rfind(sign) != at) continue;
        const std::size_t after = cell.size() - at - 1;
        if (after > 0 && after != 3) votes += vote;
      }
    }
  }
  return votes;
}

class Proposal {
 public:
  Proposal(const Trade& trade, const SupplierSheet& sheet, const SupplierId& supplier,
           const HeldCatalogue& held)
      : trade_(trade), sheet_(sheet), held_(held) {
    out_.mapping.supplier = supplier.text;
    for (const char c : supplier.text) {
      const bool small = 'a' <= c && c <= 'z';
      out_.mapping.new_number += small ? static_cast<char>(c - 'a' + 'A') : c;
    }
    out_.mapping.new_number = out_.mapping.new_number.substr(0, 19) + "-";
  }

  ProposedMapping propose(const std::optional<ColumnMapping>& saved) {
    for (std::size_t c = 0; c < sheet_.headings.size(); ++c) look_at(static_cast<int>(c));
    propose_whole(saved);
    if (saved) take_saved(*saved);
    propose_article();
    find_known_rows();
    propose_headings();
    propose_kind(saved);
    propose_facts();
    for (SeenColumn& column : out_.columns) {
      if (column.why.empty()) column.why = "nothing here says what this is; it is left out";
      finish(column);
      if (!column.proposal.goes_to.empty()) out_.mapping.columns.push_back(column.proposal);
    }
    return std::move(out_);
  }

 private:
  void look_at(int at) {
    SeenColumn column{.heading = sheet_.headings[static_cast<std::size_t>(at)]};
    column.proposal.heading = column.heading;
    std::set<std::string> words;
    for (const CsvRow& row : sheet_.rows) {
      const std::string cell = SupplierSheet::cell(row, at);
      if (says_nothing(cell)) continue;
      ++column.filled;
      if (column.first_values.size() < 3) column.first_values.push_back(cell);
      if (words.size() <= kMostWords) words.insert(cell);
    }
    if (words.size() <= kMostWords) column.words.assign(words.begin(), words.end());
    out_.columns.push_back(std::move(column));
  }

  [[nodiscard]] bool says_nothing(const std::string& cell) const {
    return cell.empty() || std::ranges::count(out_.mapping.nothing, cell) > 0;
  }

  void propose_whole(const std::optional<ColumnMapping>& saved) {
    out_.mapping.separator = word_of_separator(sheet_.separator);
    const int votes = comma_votes(sheet_);
    out_.mapping.decimal = votes > 0 ? "comma" : "point";
    out_.decimal_why = votes == 0 ? "no number of the list has decimals; a point is assumed"
                                  : fmt::format("most numbers of the list have a decimal {}",
                                                out_.mapping.decimal);
    if (!saved) return;
    out_.mapping.new_number = saved->new_number;
    out_.mapping.keep_names = saved->keep_names;
    out_.mapping.nothing = saved->nothing;
  }

  void take_saved(const ColumnMapping& saved) {
    for (const SheetColumn& column : saved.columns) {
      const int at = sheet_.column(column.heading);
      if (at < 0) continue;
      SeenColumn& seen = out_.columns[static_cast<std::size_t>(at)];
      seen.proposal = column;
      seen.why = "read so the last time";
    }
  }

  [[nodiscard]] bool is_free(std::string_view target) const {
    return std::ranges::none_of(out_.columns, [&](const SeenColumn& column) {
      return column.proposal.goes_to == target;
    });
  }

  void propose_article() {
    if (!is_free(kArticle)) return;
    int best = 0;
    SeenColumn* found = nullptr;
    for (std::size_t c = 0; c < out_.columns.size(); ++c) {
      int known = 0;
      for (const CsvRow& row : sheet_.rows) {
        known += held_.articles.contains(SupplierSheet::cell(row, static_cast<int>(c))) ? 1 : 0;
      }
      if (known > best && out_.columns[c].proposal.goes_to.empty()) {
        best = known;
        found = &out_.columns[c];
      }
    }
    if (found == nullptr || best * 5 < static_cast<int>(sheet_.rows.size())) return;
    found->proposal.goes_to = kArticle;
    found->why = fmt::format("{} of {} values are article numbers that the book has of this "
                             "supplier",
                             best, found->filled);
  }

  void find_known_rows() {
    int at = -1;
    for (const SeenColumn& column : out_.columns) {
      if (column.proposal.goes_to == kArticle) at = sheet_.column(column.heading);
    }
    for (const CsvRow& row : sheet_.rows) {
      const auto offers = held_.articles.find(SupplierSheet::cell(row, at));
      if (at < 0 || offers == held_.articles.end()) continue;
      const auto part = held_.parts.find(offers->second.front()->part.text);
      if (part != held_.parts.end() && known_.size() < kMostCompared) {
        known_.push_back({&row, part->second});
      }
    }
  }

  /// What the heading alone says: a usual word, or the name of an attribute.
  void propose_headings() {
    for (SeenColumn& column : out_.columns) {
      if (!column.proposal.goes_to.empty() || column.filled == 0) continue;
      std::string heading = folded(column.heading);
      int from = 1;
      for (const std::string_view mark : {" ab ", " from ", " a partir de ", " vanaf "}) {
        const std::size_t at = heading.find(mark);
        if (at == std::string::npos) continue;
        const std::string number = heading.substr(at + mark.size());
        const auto quantity = to_whole(number.substr(0, number.find(' ')));
        if (quantity && 1 <= *quantity && *quantity <= 100'000) {
          from = static_cast<int>(*quantity);
          heading = heading.substr(0, at);
        }
      }
      for (const HeadingWord& word : heading_words()) {
        if (word.word != heading) continue;
        const bool is_cost = word.goes_to == kCostPrice;
        if (!is_cost && !is_free(word.goes_to)) continue;
        const bool is_fact = trade_.attributes.contains(std::string(word.goes_to));
        if (is_fact && !reads_mostly(column, std::string(word.goes_to))) continue;
        column.proposal.goes_to = word.goes_to;
        if (is_cost) column.proposal.from_quantity = from;
        column.why = fmt::format("\"{}\" is a usual heading for {}", column.heading,
                                 is_fact ? trade_.attributes.at(std::string(word.goes_to)).name
                                         : std::string(word.goes_to));
        break;
      }
      if (column.proposal.goes_to.empty()) propose_named_attribute(column, heading);
    }
  }

  void propose_named_attribute(SeenColumn& column, const std::string& heading) {
    for (const auto& [id, attribute] : trade_.attributes) {
      if (heading != folded(id) && heading != folded(attribute.name)) continue;
      if (!is_free(id) || !reads_mostly(column, id)) continue;
      column.proposal.goes_to = id;
      column.why = fmt::format("the heading names the attribute \"{}\"", attribute.name);
      return;
    }
  }

  /// Whether nine in ten of the column's values can be read as this attribute.
  bool reads_mostly(SeenColumn& column, const std::string& id) {
    const Attribute& attribute = trade_.attributes.at(id);
    SheetColumn as = translated(column, attribute);
    const int at = sheet_.column(column.heading);
    int read = 0;
    int looked = 0;
    for (const CsvRow& row : sheet_.rows) {
      const std::string cell = SupplierSheet::cell(row, at);
      if (says_nothing(cell)) continue;
      if (++looked > kMostCompared) break;
      read += read_cell(attribute, as, out_.mapping.decimal_sign(), cell) ? 1 : 0;
    }
    looked = std::min(looked, kMostCompared);
    return looked > 0 && read * 10 >= looked * 8;
  }

  /// The column read as an attribute: its heading's unit, and words that clearly mean ours.
  SheetColumn translated(const SeenColumn& column, const Attribute& attribute) const {
    SheetColumn as{.heading = column.heading, .goes_to = attribute.id};
    const std::string unit = unit_in(column.heading);
    if (const UnitRow* row = find_unit(unit);
        row != nullptr && attribute.type == AttributeType::kNumber &&
        row->dimension == attribute.dimension) {
      as.unit = unit;
    }
    if (attribute.type == AttributeType::kWords && as.parted_by.empty()) {
      for (const char sign : {'|', '/', ',', ';', '+'}) {
        const bool parts = std::ranges::any_of(column.words, [sign](const std::string& word) {
          return word.find(sign) != std::string::npos;
        });
        if (parts) {
          as.parted_by = std::string(1, sign);
          break;
        }
      }
    }
    if (attribute.type == AttributeType::kNumber) return as;
    for (const std::string& value : column.words) {
      const std::vector<std::string> pieces =
          as.parted_by.empty() ? std::vector{value} : split(value, as.parted_by.front());
      for (const std::string& piece : pieces) {
        if (const std::string ours = ours_of(attribute, piece); !ours.empty() && ours != piece) {
          as.words[piece] = ours;
        }
      }
    }
    return as;
  }

  static std::string ours_of(const Attribute& attribute, const std::string& theirs) {
    if (parse_value(attribute, theirs)) return theirs;
    const std::string plain = folded(theirs);
    if (attribute.type == AttributeType::kFlag) {
      for (const HeadingWord& word : value_words()) {
        const bool is_flag = word.goes_to == "yes" || word.goes_to == "no";
        if (is_flag && word.word == plain) return std::string(word.goes_to);
      }
    }
    const auto bare = [](std::string text) {
      std::erase(text, ' ');
      return text;
    };
    for (const std::string& choice : attribute.choices) {
      if (bare(folded(choice)) == bare(plain)) return choice;
    }
    return {};
  }

  /// A column of kinds, or the one kind that the known rows are of.
  void propose_kind(const std::optional<ColumnMapping>& saved) {
    std::map<std::string, std::string> by_name;  // folded name or id -> id
    for (const std::string& id : part_kind_ids(trade_)) {
      by_name[folded(id)] = id;
      by_name[folded(trade_.kinds.at(KindId(id)).name)] = id;
    }
    for (SeenColumn& column : out_.columns) {
      if (column.words.empty() || column.why == "read so the last time") continue;
      const bool asked = column.proposal.goes_to == kKind;
      if (!asked && (!column.proposal.goes_to.empty() || !is_free(kKind))) continue;
      SheetColumn as{.heading = column.heading, .goes_to = std::string(kKind)};
      for (const std::string& word : column.words) {
        std::string kind = kind_of(by_name, word);
        if (kind.empty()) {
          kind = known_word(column, word, [](const Part& part) { return part.kind.text; });
        }
        if (!kind.empty()) as.words[word] = kind;
      }
      if (!asked && as.words.size() * 2 < column.words.size()) continue;
      column.why = fmt::format("{} of its {} words name kinds of parts, or stand with parts of one "
                               "kind that the book knows",
                               as.words.size(), column.words.size());
      column.proposal = std::move(as);
    }
    if (saved && !saved->kind.empty() && is_free(kKind)) {
      out_.mapping.kind = saved->kind;
      out_.kind_why = "read so the last time";
    } else if (is_free(kKind)) {
      propose_one_kind(by_name);
    }
  }

  /// What the book says of a part for an attribute, as a mapping writes it; empty when it does not.
  static auto said_of(const Attribute& attribute) {
    return [&attribute](const Part& part) -> std::string {
      const Fact* fact = fact_of(part, attribute.id);
      if (fact == nullptr) return {};
      const auto* set = std::get_if<std::vector<std::string>>(&fact->value);
      return set != nullptr ? join(*set, "|") : shown(attribute, fact->value);
    };
  }

  /// What the book says of every known row that has this word, when it says the same of all of
  /// them, at least two.
  template <class Say>
  std::string known_word(const SeenColumn& column, const std::string& word, Say say) const {
    const int at = sheet_.column(column.heading);
    std::string said;
    int rows = 0;
    for (const KnownRow& known : known_) {
      if (SupplierSheet::cell(*known.row, at) != word) continue;
      const std::string here = say(*known.part);
      if (here.empty()) continue;
      if (rows > 0 && here != said) return {};
      said = here;
      ++rows;
    }
    return rows >= 2 ? said : std::string();
  }

  /// "Tyres" and "TYRE" are the kind named "tyre".
  static std::string kind_of(const std::map<std::string, std::string>& by_name,
                             const std::string& word) {
    std::string plain = folded(word);
    for (int tries = 0; tries < 2 && !plain.empty(); ++tries) {
      if (const auto found = by_name.find(plain); found != by_name.end()) return found->second;
      if (plain.back() != 's') break;
      plain.pop_back();
    }
    return {};
  }

  void propose_one_kind(const std::map<std::string, std::string>& by_name) {
    std::map<std::string, int> counts;
    for (const KnownRow& known : known_) ++counts[known.part->kind.text];
    const auto most = std::ranges::max_element(counts, {}, [](const auto& c) { return c.second; });
    if (most != counts.end() && most->second * 2 > static_cast<int>(known_.size())) {
      out_.mapping.kind = most->first;
      out_.kind_why = fmt::format("{} of {} parts that the book knows from this list are of this "
                                  "kind",
                                  most->second, known_.size());
      return;
    }
    for (const std::string& word : split(folded(sheet_.file), ' ')) {
      if (const std::string kind = kind_of(by_name, word); !kind.empty()) {
        out_.mapping.kind = kind;
        out_.kind_why = fmt::format("the file's name has the word \"{}\"", word);
        return;
      }
    }
    out_.kind_why = "nothing says what kind of parts these are; choose one";
  }

  /// Columns whose values are, in the rows that the book knows, what it has as a fact.
  void propose_facts() {
    if (known_.size() < 3) return;
    std::set<std::string> ids;
    for (const KnownRow& known : known_) {
      for (const auto& [id, fact] : known.part->facts) ids.insert(id);
    }
    for (SeenColumn& column : out_.columns) {
      if (!column.proposal.goes_to.empty() || column.filled == 0) continue;
      std::string best;
      std::pair<int, int> best_score = {0, 1};  // agreeing, compared
      for (const std::string& id : ids) {
        if (!is_free(id)) continue;
        const std::pair<int, int> score = agreement(column, id);
        if (score.first >= 3 && score.first * best_score.second > best_score.first * score.second) {
          best = id;
          best_score = score;
        }
      }
      if (best.empty() || best_score.first * 10 < best_score.second * 7) continue;
      column.proposal.goes_to = best;
      column.why = fmt::format("in {} of {} rows that the book knows, this is the {}",
                               best_score.first, best_score.second,
                               trade_.attributes.at(best).name);
    }
    for (SeenColumn& column : out_.columns) {
      if (column.proposal.goes_to.empty() && !column.words.empty()) propose_by_words(column, ids);
    }
  }

  /// A column of foreign words that always stand with the same fact: "Schlauch" with "tube". Only
  /// when one attribute alone goes with them so.
  void propose_by_words(SeenColumn& column, const std::set<std::string>& ids) {
    std::vector<std::pair<std::string, std::map<std::string, std::string>>> found;
    for (const std::string& id : ids) {
      if (!is_free(id) || trade_.attributes.at(id).type == AttributeType::kNumber) continue;
      std::map<std::string, std::string> words;
      std::set<std::string> different;
      for (const std::string& word : column.words) {
        const std::string ours = known_word(column, word, said_of(trade_.attributes.at(id)));
        if (ours.empty()) continue;
        words[word] = ours;
        different.insert(ours);
      }
      if (words.size() >= 2 && different.size() == words.size()) found.emplace_back(id, words);
    }
    if (found.size() != 1) return;
    column.proposal.goes_to = found.front().first;
    column.proposal.words = found.front().second;
    std::vector<std::string> pairs;
    for (const auto& [theirs, ours] : column.proposal.words) {
      pairs.push_back(fmt::format("\"{}\" is {}", theirs, ours));
    }
    column.why = fmt::format("in the parts that the book knows, {} for the {}", listed(pairs),
                             trade_.attributes.at(found.front().first).name);
  }

  std::pair<int, int> agreement(const SeenColumn& column, const std::string& id) const {
    const Attribute& attribute = trade_.attributes.at(id);
    const SheetColumn as = translated(column, attribute);
    const int at = sheet_.column(column.heading);
    std::pair<int, int> score = {0, 0};
    std::set<std::string> different;  // one value throughout would agree by chance
    for (const KnownRow& known : known_) {
      const Fact* fact = fact_of(*known.part, id);
      const std::string cell = SupplierSheet::cell(*known.row, at);
      if (fact == nullptr || says_nothing(cell)) continue;
      ++score.second;
      const auto value = read_cell(attribute, as, out_.mapping.decimal_sign(), cell);
      if (value && *value == fact->value) {
        ++score.first;
        different.insert(cell);
      }
    }
    return different.size() < 3 ? std::pair(0, 1) : score;
  }

  /// Units and words for what is proposed, unless they are saved ones.
  void finish(SeenColumn& column) {
    if (column.why == "read so the last time") return;
    SheetColumn& proposal = column.proposal;
    const auto attribute = trade_.attributes.find(proposal.goes_to);
    if (attribute != trade_.attributes.end() && proposal.words.empty()) {
      proposal = translated(column, attribute->second);
      if (proposal.parted_by.empty()) add_known_words(column, attribute->second);
    }
    if (proposal.goes_to == kAvailability) {
      for (const std::string& theirs : column.words) {
        for (const HeadingWord& word : value_words()) {
          const bool is_ours = std::ranges::count(availability_words(), word.goes_to) > 0;
          if (is_ours && word.word == folded(theirs) && word.goes_to != theirs) {
            proposal.words[theirs] = word.goes_to;
          }
        }
      }
    }
  }

  /// Words that cannot be read, but stand with parts of which the book knows the fact.
  void add_known_words(SeenColumn& column, const Attribute& attribute) {
    if (attribute.type == AttributeType::kNumber) return;
    for (const std::string& word : column.words) {
      if (column.proposal.words.contains(word) || parse_value(attribute, word)) continue;
      const std::string ours = known_word(column, word, said_of(attribute));
      if (ours.empty()) continue;
      column.proposal.words[word] = ours;
      column.why += fmt::format("; parts with \"{}\" are {} in the book", word, ours);
    }
  }

  const Trade& trade_;
  const SupplierSheet& sheet_;
  const HeldCatalogue& held_;
  std::vector<KnownRow> known_;
  ProposedMapping out_;
};

}  // namespace

ProposedMapping propose_mapping(const Trade& trade, const SupplierSheet& sheet,
                                const SupplierId& supplier, const HeldCatalogue& held,
                                const std::optional<ColumnMapping>& saved) {
  return Proposal(trade, sheet, supplier, held).propose(saved);
}

}  // namespace rollwright::trade
