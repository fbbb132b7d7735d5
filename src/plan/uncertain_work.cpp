#include "plan/uncertain_work.hpp"

#include "plan/quick_luck.hpp"

// Compiled for what the machine has: two, four or eight at once, with the same bits.
#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__)
#define ROLLWRIGHT_SEVERAL_AT_ONCE \
  __attribute__((target_clones("default", "avx2", "arch=x86-64-v4")))
#else
#define ROLLWRIGHT_SEVERAL_AT_ONCE
#endif

namespace rollwright::plan {
namespace {

/// `__restrict`: nothing of what is read is written.
ROLLWRIGHT_SEVERAL_AT_ONCE
void draw_all(std::uint64_t key, std::size_t count, const std::uint64_t* __restrict names,
              const double* __restrict least, const double* __restrict median,
              const double* __restrict sigma, const double* __restrict most,
              int* __restrict out) {
  for (std::size_t i = 0; i < count; ++i) {
    const double z = quick_inverse_normal(uniform(mixed(key ^ names[i])));
    const double drawn = least[i] + median[i] * quick_exp(sigma[i] * z);
    const int whole = static_cast<int>((drawn < most[i] ? drawn : most[i]) + 0.5);
    out[i] = whole < 1 ? 1 : whole;
  }
}

}  // namespace

void UncertainWork::add(std::uint64_t name, const trade::Spread& spread, double most,
                        double unit) {
  names_.push_back(name);
  least_.push_back(spread.least * unit);
  median_.push_back(spread.median * unit);
  sigma_.push_back(spread.sigma);
  most_.push_back(most * unit);
}

void UncertainWork::draw(std::uint64_t key, std::span<int> out) const {
  draw_all(key, names_.size(), names_.data(), least_.data(), median_.data(), sigma_.data(),
           most_.data(), out.data());
}

}  // namespace rollwright::plan
