// Every move in the life of an order, from every state to every state with every single thing and
// every pair of things wrong, judged by the engine and by a table typed by hand from the trade's
// notes.

#include <fmt/format.h>

#include "build/trials/life_trial.hpp"

namespace {

constexpr std::size_t kMostShown = 20;

void show(const char* what, const std::vector<std::string>& lines) {
  for (std::size_t i = 0; i < lines.size() && i < kMostShown; ++i) {
    fmt::print("{}: {}\n", what, lines[i]);
  }
}

}  // namespace

int main() {
  const auto told = rollwright::build::testing::try_all_moves();
  show("wrongly allowed", told.wrongly_allowed);
  show("wrongly refused", told.wrongly_refused);
  const bool holds = told.wrongly_allowed.empty() && told.wrongly_refused.empty();
  fmt::print(R"({{"name":"transitions","holds":{},"figures":{{"tried":{},"wrongly_allowed":{},)"
             R"("wrongly_refused":{}}}}})"
             "\n", holds, told.tried, told.wrongly_allowed.size(), told.wrongly_refused.size());
  return holds ? 0 : 1;
}
