#include "plan/start_claims.hpp"

namespace rollwright::plan {

StartClaims::StartClaims(const std::vector<int>& earliest, const std::vector<int>& latest)
    : last_(2 * earliest.size(), -1) {
  for (std::size_t i = 0; i < earliest.size(); ++i) {
    bounds_.push_back(earliest[i]);
    bounds_.push_back(-latest[i]);
  }
}

void StartClaims::take(Claim claim, Because because) {
  const auto side = static_cast<std::size_t>(claim.side);
  // The claims of its reason were kept just before and go with the step.
  const std::size_t own =
      because.kind == Because::Kind::kClaims ? static_cast<std::size_t>(because.b) : 0;
  steps_.push_back({.side = claim.side,
                    .before = bounds_[side],
                    .after = claim.value,
                    .level = level(),
                    .earlier = last_[side],
                    .pool = pool_.size() - own,
                    .because = because});
  bounds_[side] = claim.value;
  last_[side] = static_cast<int>(steps_.size()) - 1;
}

int StartClaims::step_of(Claim claim) const {
  int at = last_[static_cast<std::size_t>(claim.side)];
  while (at >= 0 && step(at).before >= claim.value) at = step(at).earlier;
  return at;
}

Because StartClaims::keep(std::span<const Claim> claims) {
  const Because because{Because::Kind::kClaims, static_cast<int>(pool_.size()),
                        static_cast<int>(claims.size())};
  pool_.insert(pool_.end(), claims.begin(), claims.end());
  return because;
}

}  // namespace rollwright::plan
