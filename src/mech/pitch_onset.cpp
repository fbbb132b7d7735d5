#include "mech/pitch_onset.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "base/text.hpp"

namespace rollwright::mech {
namespace {

constexpr double kFrame = 0.01;       // s
constexpr double kSilence = 3e-5;     // root mean square of full scale, -90 dB
constexpr double kLeastRise = 2.5;    // in energy, 4 dB
constexpr double kSunk = 1e-3;        // in energy, 30 dB
constexpr double kAttack = 0.015;     // s

/// Mean square of each frame.
std::vector<double> frame_energies(const Sound& thin, std::size_t frame) {
  std::vector<double> energies;
  for (std::size_t at = 0; at + frame <= thin.samples.size(); at += frame) {
    double sum = 0;
    for (std::size_t i = at; i < at + frame; ++i) sum += thin.samples[i] * thin.samples[i];
    energies.push_back(sum / static_cast<double>(frame));
  }
  return energies;
}

double mean_energy(const std::vector<double>& energies, std::size_t from, std::size_t to) {
  to = std::min(to, energies.size());
  if (from >= to) return 0;
  double sum = 0;
  for (std::size_t i = from; i < to; ++i) sum += energies[i];
  return sum / static_cast<double>(to - from);
}

/// Frame with the largest rise over the two before it. The start of the recording counts as a rise
/// from nothing, for one that was started too late.
std::size_t onset_frame(const std::vector<double>& energies) {
  std::size_t best = 0;
  double most = mean_energy(energies, 0, 2);
  for (std::size_t i = 1; i < energies.size(); ++i) {
    const double rise =
        mean_energy(energies, i, i + 2) - mean_energy(energies, i > 2 ? i - 2 : 0, i);
    if (rise > most) most = rise, best = i;
  }
  return best;
}

bool rises(const std::vector<double>& energies, std::size_t onset) {
  if (onset == 0) return false;
  return mean_energy(energies, onset, onset + 3) >
         kLeastRise * mean_energy(energies, onset > 5 ? onset - 5 : 0, onset > 1 ? onset - 1 : 1);
}

/// Whether the recording starts in a pluck already: it fades from end to end.
bool fades(const std::vector<double>& energies) {
  const std::size_t half = energies.size() / 2;
  return mean_energy(energies, 0, half) > 1.5 * mean_energy(energies, half, energies.size());
}

/// First frame after the onset at which the tone has sunk, looked at over 50 ms.
std::size_t sunk_frame(const std::vector<double>& energies, std::size_t onset, std::size_t most) {
  const double start = mean_energy(energies, onset + 2, onset + 7);
  const double before = onset > 3 ? mean_energy(energies, 0, onset - 2) : 0;
  const double limit = std::max(kSunk * start, 1.2 * before);
  const std::size_t last = std::min(energies.size(), onset + most);
  for (std::size_t i = onset + 2; i < last; ++i) {
    if (mean_energy(energies, i, i + 5) < limit) return i;
  }
  return last;
}

}  // namespace

Result<PluckPiece> pluck_piece(const Sound& thin, double least_s, double most_s) {
  const auto frame = static_cast<std::size_t>(thin.rate_hz * kFrame);
  const std::vector<double> energies = frame_energies(thin, frame);
  if (energies.empty()) {
    return refuse(Code::kRefused, "The recording is too short; let it run for a second.");
  }
  const double loudest = *std::max_element(energies.begin(), energies.end());
  if (!(loudest > kSilence * kSilence)) {
    return refuse(Code::kRefused,
                  "The recording is silent; check the microphone and pluck again close to it.");
  }
  std::size_t onset = onset_frame(energies);
  if (!rises(energies, onset)) onset = 0;
  if (onset == 0 && !fades(energies)) {
    return refuse(Code::kRefused,
                  "No pluck stands out of the noise; record nearer to it or where it is quieter.");
  }
  const auto most = static_cast<std::size_t>((most_s + kAttack) / kFrame);
  const std::size_t end = sunk_frame(energies, onset, most);
  const PluckPiece piece{onset * frame + static_cast<std::size_t>(kAttack * thin.rate_hz),
                         end * frame};
  const double seconds = piece.to > piece.from
                             ? static_cast<double>(piece.to - piece.from) / thin.rate_hz
                             : 0;
  if (seconds < least_s) {
    return refuse(Code::kRefused,
                  fmt::format("The sound fades or stops within {} s, too short to tell its pitch; "
                              "pluck harder, touch nothing and let it ring.",
                              rounded(least_s, 2)));
  }
  return piece;
}

}  // namespace rollwright::mech
