#pragma once

#include "aids/aid.hpp"
#include "units/quantity.hpp"

namespace rollwright::aids {

/// What was typed into an aid's fields, read by what the fields are. `read` has checked every
/// field, so that the getters only give what is there; a key that the aid does not have, or of
/// another kind, is a broken promise.
class Given {
 public:
  /// Fields that are left out take their preset. Errors: kBadInput naming the field: no such field,
  /// no number, wrong unit, no such choice, nothing where something is needed.
  [[nodiscard]] static Result<Given> read(const Aid& aid, const Typed& typed);

  /// `own_unit` is that of the field's dimension: `given.amount("rim_diameter", mm)`.
  template <class Dimension>
  [[nodiscard]] Quantity<Dimension> amount(const std::string& key,
                                           Quantity<Dimension> own_unit) const {
    return numbers_of(key).front() * own_unit;
  }
  [[nodiscard]] double number(const std::string& key) const { return numbers_of(key).front(); }
  [[nodiscard]] int count(const std::string& key) const;
  [[nodiscard]] std::vector<int> counts(const std::string& key) const;
  [[nodiscard]] const std::vector<double>& numbers(const std::string& key) const {
    return numbers_of(key);
  }
  [[nodiscard]] const std::string& word(const std::string& key) const;
  /// Whether anything stands in a field that may stay empty.
  [[nodiscard]] bool has(const std::string& key) const;

 private:
  [[nodiscard]] const std::vector<double>& numbers_of(const std::string& key) const;

  std::map<std::string, std::vector<double>> numbers_;
  std::map<std::string, std::string> words_;
};

/// Fields.
[[nodiscard]] Input amount(std::string key, std::string label, Dimension dimension,
                           std::string preset, std::string help = {});
/// In millimetres.
[[nodiscard]] Input millimetres(std::string key, std::string label, const std::string& preset,
                                std::string help = {});
[[nodiscard]] Input plain_number(std::string key, std::string label, std::string preset,
                                 std::string help = {});
[[nodiscard]] Input count(std::string key, std::string label, std::string preset,
                          std::string help = {});
[[nodiscard]] Input counts(std::string key, std::string label, std::string preset,
                           std::string help = {});
[[nodiscard]] Input plain_numbers(std::string key, std::string label, std::string preset,
                                  std::string help = {});
[[nodiscard]] Input choice(std::string key, std::string label, std::vector<std::string> words,
                           std::string help = {});
/// The field with something else in it at first.
[[nodiscard]] Input starting_with(Input field, std::string preset);
[[nodiscard]] Input file(std::string key, std::string label, std::string media,
                         std::string help);
[[nodiscard]] Input text(std::string key, std::string label, std::string preset,
                         std::string help = {});

/// A figure in the dimension's own unit, with what a US shop reads beside it. Without `decimals`, as
/// many as a gauge of the trade shows.
struct Shown {
  double own_units = 0;
  Dimension dimension = Dimension::kNone;
  std::string unit;   // empty: the dimension's own
  int decimals = -1;
};
[[nodiscard]] Row row(std::string name, const Shown& shown, std::string note = {});

}  // namespace rollwright::aids
