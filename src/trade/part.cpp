#include "trade/part.hpp"

namespace rollwright::trade {

const Fact* fact_of(const Part& part, const std::string& attribute) {
  const auto found = part.facts.find(attribute);
  if (found == part.facts.end() || found->second.standing == Standing::kNotKnown) return nullptr;
  return &found->second;
}

std::optional<double> number_of(const Part& part, const std::string& attribute) {
  const Fact* fact = fact_of(part, attribute);
  const double* number = fact == nullptr ? nullptr : std::get_if<double>(&fact->value);
  return number == nullptr ? std::nullopt : std::optional(*number);
}

std::optional<std::string> word_of(const Part& part, const std::string& attribute) {
  const Fact* fact = fact_of(part, attribute);
  const std::string* word = fact == nullptr ? nullptr : std::get_if<std::string>(&fact->value);
  return word == nullptr ? std::nullopt : std::optional(*word);
}

std::optional<Mass> mass_of(const Part& part) {
  const std::optional<double> kilograms = number_of(part, "mass");
  return kilograms ? std::optional(*kilograms * kg) : std::nullopt;
}

}  // namespace rollwright::trade
