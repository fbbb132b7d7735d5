#include "trade/take_in.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/text.hpp"

namespace rollwright::trade {
namespace {

/// The part's number for an article that the book does not know yet; spaces become dashes.
std::string new_number(const ColumnMapping& mapping, const std::string& article) {
  std::string number = mapping.new_number + article;
  std::ranges::replace(number, ' ', '-');
  return number;
}

/// Judges one row; what it puts together is in `out`.
class RowJudge {
 public:
  RowJudge(const Trade& trade, const SupplierSheet& sheet, const ColumnMapping& mapping,
           const HeldCatalogue& held, const TakeInTerms& terms)
      : trade_(trade), sheet_(sheet), mapping_(mapping), held_(held), terms_(terms) {}

  RowOutcome judge(const SheetRow& row) {
    out_ = RowOutcome{.line = row.line, .article = row.article, .name = row.name,
                      .kind = row.kind, .notes = row.notes, .problems = row.problems};
    if (!row.article.empty()) {
      const auto [first, is_new] = lines_.emplace(row.article, row.line);
      if (!is_new) {
        problem(kArticle, row.article, Code::kConflict,
                fmt::format("this article is there twice, first on line {}; keep one row",
                            first->second));
      } else {
        judge_part(row);
      }
    }
    if (!out_.problems.empty()) {
      out_.fate = RowFate::kRefused;
      out_.changes.clear();
      out_.part_after.reset();
      out_.offer_after.reset();
    }
    return std::move(out_);
  }

 private:
  void problem(std::string_view target, std::string value, Code code, std::string sentence) {
    std::string field(target);
    for (const SheetColumn& column : mapping_.columns) {
      if (column.goes_to == target) field = column.heading;
    }
    out_.problems.push_back({code, std::move(sentence),
                             {.file = sheet_.file, .line = out_.line, .field = std::move(field),
                              .value = std::move(value)}});
  }
  void change(std::string what, std::string from, std::string to) {
    out_.changes.push_back({std::move(what), std::move(from), std::move(to)});
  }

  void judge_part(const SheetRow& row) {
    const auto offered = held_.articles.find(row.article);
    if (offered != held_.articles.end() && offered->second.size() > 1) {
      return problem(kArticle, row.article, Code::kConflict,
                     fmt::format("the book has this article for two parts, {} and {}; mend the "
                                 "offers first",
                                 offered->second[0]->part.text, offered->second[1]->part.text));
    }
    out_.part = offered != held_.articles.end() ? offered->second.front()->part.text
                                                : new_number(mapping_, row.article);
    const auto [first, is_new] = parts_.emplace(out_.part, row.line);
    if (!is_new) {
      return problem(kArticle, row.article, Code::kConflict,
                     fmt::format("this row is about part {}, and so is line {}; keep one row",
                                 out_.part, first->second));
    }
    const auto found = held_.parts.find(out_.part);
    if (found == held_.parts.end()) return judge_new(row);
    const Part& held = *found->second;
    const auto offer = held_.offers.find(out_.part);
    if (offer != held_.offers.end() && offer->second->article != row.article &&
        !offer->second->article.empty()) {
      return problem(kArticle, row.article, Code::kConflict,
                     fmt::format("part {} is this supplier's article {} in the book; mend the "
                                 "article number, or the book's offer",
                                 out_.part, offer->second->article));
    }
    if (!row.kind.empty() && held.kind != row.kind) {
      return problem(kKind, row.kind.text, Code::kContradiction,
                     fmt::format("the book has part {} as {}; it stays of one kind", out_.part,
                                 kind_name(held.kind)));
    }
    judge_held(row, held, offer == held_.offers.end() ? nullptr : offer->second);
  }

  [[nodiscard]] std::string kind_name(const KindId& kind) const {
    const auto found = trade_.kinds.find(kind);
    return found == trade_.kinds.end() ? kind.text : found->second.name;
  }

  void judge_new(const SheetRow& row) {
    out_.fate = RowFate::kNew;
    if (row.name.empty() && row.problems.empty()) {
      problem(kName, "", Code::kBadInput, "this part is new; a new part needs a name");
    }
    if (!row.price && row.problems.empty()) {
      problem(kCustomerPrice, "", Code::kBadInput,
              "this part is new; a new part needs the price that the customer pays");
    }
    Part part{.id = PartId(out_.part), .kind = row.kind, .name = row.name, .maker = row.maker};
    change("name", "", row.name);
    if (!row.maker.empty()) change("maker", "", row.maker);
    put_price(row, part, true);
    put_facts(row, part);
    put_offer(row, nullptr);
    out_.part_after = std::move(part);
  }

  void judge_held(const SheetRow& row, const Part& held, const Offer* offer) {
    Part part = held;
    out_.name = held.name;
    const auto rename = [&](const char* what, const std::string& listed, std::string& into) {
      if (mapping_.keep_names || listed.empty() || listed == into) return;
      change(what, into, listed);
      into = listed;
    };
    rename("name", row.name, part.name);
    rename("maker", row.maker, part.maker);
    put_price(row, part, false);
    put_facts(row, part);
    if (!out_.changes.empty()) out_.part_after = std::move(part);
    put_offer(row, offer);
    if (!out_.changes.empty()) out_.fate = RowFate::kChanged;
    if (held.gone) {
      out_.notes.emplace_back("this part is discontinued in the shop; the list does not bring it "
                              "back");
    }
  }

  void put_price(const SheetRow& row, Part& part, bool is_new) {
    if (!row.price || (!is_new && *row.price == part.price)) return;
    change("customer price", is_new ? "" : shown(part.price), shown(*row.price));
    part.price = *row.price;
  }

  void put_facts(const SheetRow& row, Part& part) {
    for (const auto& [id, stated] : row.facts) {
      const Attribute& attribute = trade_.attributes.at(id);
      const auto found = part.facts.find(id);
      const Fact* held = found == part.facts.end() ||
                                 found->second.standing == Standing::kNotKnown
                             ? nullptr
                             : &found->second;
      if (held != nullptr && says_the_same(*held, stated)) continue;
      const std::string listed = shown(attribute, stated.value);
      if (held != nullptr && held->standing == Standing::kMeasured) {
        const bool taken = terms_.take_over.contains({out_.part, id});
        out_.contradictions.push_back({.attribute = id, .name = attribute.name,
                                       .measured = shown(attribute, held->value), .by = held->by,
                                       .date = held->date, .listed = listed,
                                       .taken_over = taken});
        if (!taken) continue;
      }
      change(attribute.name, held == nullptr ? "" : shown(attribute, held->value), listed);
      part.facts[id] = {.standing = Standing::kKnown, .value = stated.value,
                        .source = terms_.source, .by = {}, .date = terms_.day};
    }
  }

  /// A measurement may differ from the printed figure by what printing rounded away.
  static bool says_the_same(const Fact& held, const StatedFact& stated) {
    const auto* ours = std::get_if<double>(&held.value);
    const auto* theirs = std::get_if<double>(&stated.value);
    if (ours == nullptr || theirs == nullptr) return held.value == stated.value;
    const double scale = std::max({1.0, std::abs(*ours), std::abs(*theirs)});
    const double slack = held.standing == Standing::kMeasured ? stated.half_digit : 0;
    return std::abs(*ours - *theirs) <= slack + 1e-9 * scale;
  }

  void put_offer(const SheetRow& row, const Offer* held) {
    if (held == nullptr && row.breaks.empty()) {
      if (row.pack || row.availability) {
        out_.notes.emplace_back("the list has no cost price here, so no offer is made of it");
      }
      return;
    }
    Offer offer = held != nullptr ? *held
                                  : Offer{.supplier = terms_.supplier, .part = PartId(out_.part)};
    const std::size_t before = out_.changes.size();
    if (offer.article != row.article) {
      change("article number", offer.article, row.article);
      offer.article = row.article;
    }
    put_breaks(row, offer);
    if (row.pack && (held == nullptr || *row.pack != offer.pack)) {
      change("pack", held == nullptr ? "" : std::to_string(offer.pack), std::to_string(*row.pack));
      offer.pack = *row.pack;
    }
    if (row.availability && (held == nullptr || *row.availability != offer.availability)) {
      change("availability", held == nullptr ? "" : offer.availability, *row.availability);
      offer.availability = *row.availability;
    }
    if (out_.changes.size() == before) return;
    if (terms_.day < offer.as_of) {
      out_.notes.push_back(fmt::format("the book's offer is of {}, later than this list",
                                       iso(offer.as_of)));
    }
    offer.as_of = terms_.day;
    out_.offer_after = std::move(offer);
  }

  static std::string price_name(int from) {
    return from == 1 ? "cost price" : fmt::format("cost price from {}", from);
  }

  void put_breaks(const SheetRow& row, Offer& offer) {
    if (row.breaks.empty()) return;
    std::map<int, Money> steps;
    for (const PriceBreak& step : offer.breaks) steps[step.from_quantity] = step.unit_cost;
    std::set<int> listed;
    for (const PriceBreak& step : row.breaks) {
      listed.insert(step.from_quantity);
      const auto found = steps.find(step.from_quantity);
      if (found != steps.end() && found->second == step.unit_cost) continue;
      change(price_name(step.from_quantity), found == steps.end() ? "" : shown(found->second),
             shown(step.unit_cost));
      steps[step.from_quantity] = step.unit_cost;
    }
    drop_what_is_dearer(steps, listed);
    offer.breaks.clear();
    for (const auto& [from, cost] : steps) offer.breaks.push_back({from, cost});
  }

  /// More pieces never cost more each: what an older list said of larger quantities goes when it
  /// would, and stays, with a note, when it does not.
  void drop_what_is_dearer(std::map<int, Money>& steps, const std::set<int>& listed) {
    std::optional<Money> below;
    for (auto at = steps.begin(); at != steps.end();) {
      if (!listed.contains(at->first) && below && at->second >= *below) {
        change(price_name(at->first), shown(at->second), "");
        at = steps.erase(at);
        continue;
      }
      if (!listed.contains(at->first)) {
        out_.notes.push_back(fmt::format("the {} ({}) is not in this list and stays",
                                         price_name(at->first), shown(at->second)));
      }
      below = at->second;
      ++at;
    }
  }

  const Trade& trade_;
  const SupplierSheet& sheet_;
  const ColumnMapping& mapping_;
  const HeldCatalogue& held_;
  const TakeInTerms& terms_;
  std::map<std::string, int> lines_;  // article -> line that named it first
  std::map<std::string, int> parts_;  // part -> line
  RowOutcome out_;
};

/// A cell as it came, so that what was mended reads back as it was written.
std::string raw_cell(const std::string& text, char separator) {
  const char quoted_for[] = {separator, '"', '\n', '\r'};
  if (text.find_first_of({quoted_for, 4}) == std::string::npos && trim(text) == text) return text;
  std::string quoted = "\"";
  for (const char c : text) {
    if (c == '"') quoted += '"';
    quoted += c;
  }
  return quoted + '"';
}

}  // namespace

std::string_view word_of(RowFate fate) {
  switch (fate) {
    case RowFate::kNew: return "new";
    case RowFate::kChanged: return "changed";
    case RowFate::kSame: return "same";
    case RowFate::kRefused: return "refused";
  }
  broken_promise("every fate has a word", __FILE__, __LINE__);
}

HeldCatalogue held_catalogue(const std::vector<Part>& parts, const std::vector<Offer>& offers,
                             const SupplierId& supplier) {
  HeldCatalogue held;
  for (const Part& part : parts) held.parts[part.id.text] = &part;
  for (const Offer& offer : offers) {
    if (offer.supplier != supplier) continue;
    held.offers[offer.part.text] = &offer;
    if (!offer.article.empty()) held.articles[offer.article].push_back(&offer);
  }
  return held;
}

std::vector<RowOutcome> judge_rows(const Trade& trade, const SupplierSheet& sheet,
                                   const ColumnMapping& mapping,
                                   const std::vector<SheetRow>& rows, const HeldCatalogue& held,
                                   const TakeInTerms& terms) {
  RowJudge judge(trade, sheet, mapping, held, terms);
  std::vector<RowOutcome> outcomes;
  outcomes.reserve(rows.size());
  for (const SheetRow& row : rows) outcomes.push_back(judge.judge(row));
  return outcomes;
}

std::string refused_rows_csv(const SupplierSheet& sheet, const std::vector<RowOutcome>& outcomes) {
  std::string text;
  const auto add = [&](const std::string& cell, char after) {
    text += raw_cell(cell, sheet.separator) + after;
  };
  for (std::size_t i = 0; i < outcomes.size() && i < sheet.rows.size(); ++i) {
    if (outcomes[i].fate != RowFate::kRefused) continue;
    if (text.empty()) {
      for (const std::string& heading : sheet.headings) add(heading, sheet.separator);
      add("why refused", '\n');
    }
    const std::size_t cells = std::max(sheet.headings.size(), sheet.rows[i].cells.size());
    for (std::size_t c = 0; c < cells; ++c) {
      add(SupplierSheet::cell(sheet.rows[i], static_cast<int>(c)), sheet.separator);
    }
    std::vector<std::string> why;
    for (const Error& problem : outcomes[i].problems) {
      why.push_back(fmt::format("line {}, {}: {}", problem.place.line, problem.place.field,
                                problem.sentence));
    }
    add(join(why, "; "), '\n');
  }
  return text;
}

}  // namespace rollwright::trade
