#pragma once

#include <optional>
#include <string>
#include <vector>

#include "aids/aids.hpp"

namespace rollwright::aids {

/// What somebody knows of an aid's fields before a person types: a value with its origin, or what
/// would have to be known for one.
struct KnownField {
  std::string key;
  std::string value;     // of a file the name under which it is shown
  std::string origin;    // empty when nothing is known
  std::string question;  // empty when nothing is missing
};

/// One field as it is shown with the answer.
struct FilledField {
  std::string key;
  std::string label;
  std::string value;
  std::string from;      // "known", "typed", or "preset": the aid's own, says nothing of this bike
  std::string origin;    // of a known one
  std::string question;  // what is not known yet
};

/// An aid with its fields filled and what it answers. Either `reckoned` or `refusal` is there.
struct FilledAid {
  std::string aid;
  std::string end;                  // of the bike that was asked for; may be empty
  std::vector<std::string> ends;    // that may be asked for; none: no such choice
  std::vector<FilledField> fields;  // in the aid's order; none where the aid says nothing of the bike
  std::vector<std::string> open;    // what to know before no preset stands for a fact, each once
  std::optional<Reckoned> reckoned;
  std::optional<Error> refusal;
};

/// What fills an aid.
struct Filling {
  std::vector<KnownField> known;
  Typed typed;       // goes before what is known
  std::string file;  // the content for the field that takes one, where that field is known
};

/// Every field of the aid: as typed, else as known, else its preset. A known value that the aid has
/// no field for is a broken promise. A refusal names what is not known where that is why.
[[nodiscard]] FilledAid filled(const Aid& aid, const Filling& filling);

}  // namespace rollwright::aids
