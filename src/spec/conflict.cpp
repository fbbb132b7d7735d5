#include "spec/conflict.hpp"

namespace rollwright::spec {

namespace {

using Members = std::vector<int>;
using Clashes = std::function<bool(const Members&)>;

Members joined(const Members& a, const Members& b) {
  Members all = a;
  all.insert(all.end(), b.begin(), b.end());
  return all;
}

/// What of `candidates` has to join `given` for a clash. `grew` says that `given` has members that
/// were not yet tried without any candidate.
Members needed(const Members& given, bool grew, const Members& candidates, const Clashes& clashes) {
  if (grew && clashes(given)) return {};
  if (candidates.size() == 1) return candidates;
  const auto middle = candidates.begin() + static_cast<long>(candidates.size() / 2);
  const Members first(candidates.begin(), middle);
  const Members second(middle, candidates.end());
  const Members from_second = needed(joined(given, first), true, second, clashes);
  const Members from_first =
      needed(joined(given, from_second), !from_second.empty(), first, clashes);
  return joined(from_first, from_second);
}

}  // namespace

Members irreducible_conflict(const Members& members, const Clashes& clashes) {
  if (members.empty() || clashes({})) return {};
  return needed({}, false, members, clashes);
}

}  // namespace rollwright::spec
