#include "build/bench_writing.hpp"

namespace rollwright::build {

Result<void> BenchWriting::add(const BenchWriter& writer, const DeedWanted& wanted) {
  Result<trade::BikeLine> line = judge({.sheet = sheet_,
                                        .state = now_,
                                        .person = writer.person,
                                        .wanted = wanted,
                                        .tool = writer.tool,
                                        .four_eyes = writer.four_eyes,
                                        .blocked = writer.blocked});
  if (!line) return std::unexpected(line.error());
  play_on(sheet_, *line, now_);
  lines_.push_back(std::move(*line));
  return {};
}

std::set<std::string> done_by(const BenchState& state, std::set<std::string> before) {
  for (const OperationNow& now : state.operations) {
    if (now.standing == Standing::kDone) {
      before.insert(now.step->operation);
    } else {
      before.erase(now.step->operation);
    }
  }
  return before;
}

}  // namespace rollwright::build
