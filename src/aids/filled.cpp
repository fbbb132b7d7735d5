#include "aids/filled.hpp"

#include <algorithm>

#include "base/text.hpp"

namespace rollwright::aids {
namespace {

FilledField field_of(const Input& input, const Filling& filling) {
  FilledField field{.key = input.key, .label = input.label, .value = input.preset, .from = "preset"};
  for (const KnownField& one : filling.known) {
    if (one.key != input.key) continue;
    if (!one.origin.empty()) {
      field.value = one.value;
      field.from = "known";
      field.origin = one.origin;
    }
    if (!one.question.empty()) {
      field.question += (field.question.empty() ? "" : "; ") + one.question;
    }
  }
  const auto typed = filling.typed.find(input.key);
  if (typed != filling.typed.end()) {
    field.value = typed->second;
    field.from = "typed";
  }
  return field;
}

/// Questions at fields in which a preset stands.
std::vector<std::string> open_in(const std::vector<FilledField>& fields,
                                 const std::vector<KnownField>& known) {
  std::vector<std::string> open;
  for (const KnownField& one : known) {
    const auto field = std::ranges::find(fields, one.key, &FilledField::key);
    const bool preset = field != fields.end() && field->from == "preset";
    if (preset && !one.question.empty() && std::ranges::count(open, one.question) == 0) {
      open.push_back(one.question);
    }
  }
  return open;
}

/// The refusal with what is not known at its field, or at any when it names none.
Error with_question(Error error, const std::vector<FilledField>& fields) {
  std::vector<std::string> questions;
  for (const FilledField& field : fields) {
    const bool asked = error.place.field.empty() || error.place.field == field.key;
    if (asked && !field.question.empty()) questions.push_back(field.question);
  }
  if (!questions.empty()) error.sentence += " (" + join(questions, "; ") + ")";
  return error;
}

}  // namespace

FilledAid filled(const Aid& aid, const Filling& filling) {
  for (const KnownField& one : filling.known) {
    ROLLWRIGHT_PROMISE(std::ranges::count(aid.inputs, one.key, &Input::key) == 1);
  }
  FilledAid made{.aid = aid.id};
  Typed typed = filling.typed;
  for (const Input& input : aid.inputs) {
    made.fields.push_back(field_of(input, filling));
    const FilledField& field = made.fields.back();
    if (field.from != "known") continue;
    typed[input.key] = input.kind == InputKind::kFile ? filling.file : field.value;
  }
  made.open = open_in(made.fields, filling.known);
  const auto given = Given::read(aid, typed);
  Result<Reckoned> reckoned = given ? aid.reckon(*given) : std::unexpected(given.error());
  if (reckoned) {
    made.reckoned = std::move(*reckoned);
  } else {
    made.refusal = with_question(reckoned.error(), made.fields);
  }
  return made;
}

}  // namespace rollwright::aids
