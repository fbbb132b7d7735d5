#include "build/deed_words.hpp"

#include <fmt/format.h>

namespace rollwright::build {

std::string title(const OperationNow& now) {
  return fmt::format("{} ({})", now.step->operation, now.step->name);
}

Result<const OperationNow*> operation_of(const DeedAsked& asked) {
  const OperationNow* now = asked.state.operation(asked.wanted.about);
  if (now != nullptr) return now;
  return refuse(Code::kNotFound, "this bike's sheet has no such operation",
                {.field = "about", .value = asked.wanted.about});
}

std::unexpected<Error> missing_note(std::string_view why) {
  return refuse(Code::kBadInput, fmt::format("say {}", why), {.field = "note"});
}

}  // namespace rollwright::build
