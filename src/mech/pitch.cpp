#include "mech/pitch.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <span>

#include "base/text.hpp"
#include "mech/field_range.hpp"
#include "mech/pitch_comb.hpp"
#include "mech/pitch_onset.hpp"
#include "mech/pitch_spectrum.hpp"

namespace rollwright::mech {
namespace {

constexpr double kLeastWaves = 6;       // of the lowest pitch looked for, in the shortest piece
constexpr double kLeastWavesHeard = 8;  // of the pitch found
constexpr double kMostPluckSeconds = 0.8;
constexpr double kMostTop = 5000;       // Hz
constexpr double kClearlyBetter = 0.78;  // of the best comb's score
constexpr double kCarriedOver = 0.006;  // of the pitch, when its partial is not heard
constexpr double kBeside = 0.12;        // of the pitch: how far off a crossing spoke may be
constexpr double kOverdriven = 0.001;

std::optional<Error> pluck_problem(const Sound& sound, const PluckAsked& asked) {
  const double least = asked.least.in(hertz);
  return first_outside({{"samples a second", sound.rate_hz, 8000, 192000, "Hz"},
                        {"lowest pitch looked for", least, 15, 2000, "Hz"},
                        {"highest pitch looked for", asked.most.in(hertz), 1.2 * least, 2500, "Hz"},
                        {"stiffness", asked.most_stiffness, 0, 0.1, ""}});
}

/// The standard deviation that white noise gives the best place of a tone of `amplitude` under a
/// Hann window over `seconds`, when the noise in one bin is `amplitude / over_noise`. To first
/// order: noise in quadrature times the lever of each sample, over the curvature of the peak.
double noise_of_place(double over_noise, double seconds) {
  constexpr int kSteps = 256;
  double levers = 0;     // of w^2 t^2
  double curvature = 0;  // of w t^2
  double power = 0;      // of w^2
  for (int i = 0; i < kSteps; ++i) {
    const double t = (i + 0.5) / kSteps - 0.5;
    const double w = 1 + std::cos(2 * std::numbers::pi * t);
    levers += w * w * t * t;
    curvature += w * t * t;
    power += w * w;
  }
  // over_noise is amplitude over the root mean square of one of two quadratures in the bin.
  const double radians = std::sqrt(levers / power) / (curvature / kSteps) / over_noise;
  return radians / (2 * std::numbers::pi * seconds);
}

/// Places of the lowest partial in the two halves of the piece, one less the other.
double halves_apart(std::span<const double> piece, double rate_hz, double hz) {
  const std::size_t half = piece.size() / 2;
  const double reach = 1.2 * rate_hz / static_cast<double>(half);
  const auto place = [&](std::span<const double> part) {
    return loudest_near(hann_windowed(part), rate_hz, hz, reach);
  };
  return place(piece.first(half)) - place(piece.last(half));
}

/// What leans on the peak: the levels one bin above and below it are equal for a tone alone, fading
/// or not. Taken as an uncertainty of its place.
double leaning(std::span<const double> piece, double rate_hz, double hz) {
  const auto windowed = hann_windowed(piece);
  const double bin_hz = rate_hz / static_cast<double>(piece.size());
  const double above = tone_amplitude(windowed, rate_hz, hz + bin_hz);
  const double below = tone_amplitude(windowed, rate_hz, hz - bin_hz);
  return bin_hz * std::fabs(above - below) / (above + below);
}

/// The loudest tone near the lowest partial: of two crossed spokes the plucked one.
TonePeak loudest_beside(const std::vector<TonePeak>& peaks, TonePeak lowest,
                        const CombAsked& asked) {
  for (const TonePeak& peak : peaks) {
    if (peak.amplitude > lowest.amplitude && asked.least_hz <= peak.hz &&
        peak.hz <= asked.most_hz && std::fabs(peak.hz - lowest.hz) < kBeside * lowest.hz) {
      return peak;
    }
  }
  return lowest;
}

/// The loudest tone near the pitch that is not the pitch: a crossing spoke.
std::optional<Frequency> beside_of(const std::vector<TonePeak>& peaks, const TonePeak& lowest) {
  for (const TonePeak& peak : peaks) {
    const double off = std::fabs(peak.hz - lowest.hz);
    if (off > 0 && off < kBeside * lowest.hz && peak.amplitude > 0.15 * lowest.amplitude) {
      return peak.hz * hertz;
    }
  }
  return std::nullopt;
}

Error unclear(const std::string& why) {
  return Error{Code::kRefused,
               why + " Mute the other spokes and what else rings, and pluck again."};
}

Result<Comb> clear_comb(const std::vector<TonePeak>& peaks, const CombAsked& asked) {
  const Combs combs = best_combs(peaks, asked);
  if (!combs.best || combs.best->score <= 0) {
    return std::unexpected(
        unclear(fmt::format("No clear pitch from {} to {} Hz stands out of this sound.",
                            rounded(asked.least_hz, 0), rounded(asked.most_hz, 0))));
  }
  if (!combs.best->lowest && combs.best->heard < 2) {
    return std::unexpected(unclear("Only one overtone is heard, which does not tell the pitch."));
  }
  if (combs.other && combs.other->score > kClearlyBetter * combs.best->score &&
      !(combs.best->lowest && std::fabs(combs.other->lowest_hz / combs.best->lowest_hz - 1) <
                                  kBeside)) {
    return std::unexpected(unclear(fmt::format(
        "The sound can be read as {} Hz and as {} Hz.", rounded(combs.best->lowest_hz, 0),
        rounded(combs.other->lowest_hz, 0))));
  }
  return *combs.best;
}

}  // namespace

Result<PluckPitch> pluck_pitch(const Sound& sound, const PluckAsked& asked) {
  if (auto error = pluck_problem(sound, asked)) return std::unexpected(*error);
  const double least_hz = asked.least.in(hertz);
  const double most_hz = asked.most.in(hertz);
  const double top_hz = std::min({kMostTop, 0.45 * sound.rate_hz, 5 * most_hz});
  const Sound thin = thinned(sound, least_hz, top_hz);
  const auto found = pluck_piece(thin, kLeastWaves / least_hz,
                                 std::max(kMostPluckSeconds, 24 / least_hz));
  if (!found) return std::unexpected(found.error());
  const std::span<const double> piece =
      std::span(thin.samples).subspan(found->from, found->to - found->from);
  const double seconds = static_cast<double>(piece.size()) / thin.rate_hz;
  const auto peaks = tone_peaks(piece, thin.rate_hz, 0.7 * least_hz, top_hz);
  const CombAsked comb_asked{least_hz, most_hz, asked.most_stiffness, 1 / seconds};
  auto comb = clear_comb(peaks, comb_asked);
  if (!comb) return std::unexpected(comb.error());
  if (comb->lowest) comb->lowest = loudest_beside(peaks, *comb->lowest, comb_asked);

  PluckPitch heard{.lowest_heard = comb->lowest.has_value(),
                   .partials = comb->heard,
                   .from_s = static_cast<double>(found->from) / thin.rate_hz,
                   .to_s = static_cast<double>(found->to) / thin.rate_hz,
                   .overdriven = sound.clipped_share > kOverdriven};
  const auto loudest = std::max_element(
      comb->partials.begin(), comb->partials.end(),
      [](const TonePeak& a, const TonePeak& b) { return a.over_noise < b.over_noise; });
  heard.over_noise_db = 20 * std::log10(loudest->over_noise);
  const double hz = comb->lowest ? comb->lowest->hz : comb->lowest_hz;
  const TonePeak& judged = comb->lowest ? *comb->lowest : comb->partials.front();
  const double number = comb->lowest ? 1 : comb->numbers.front();
  if (hz * seconds < kLeastWavesHeard) {
    return std::unexpected(unclear("The sound is too short for a pitch as low as that."));
  }
  const double drift = std::hypot(halves_apart(piece, thin.rate_hz, judged.hz) / 2,
                                  leaning(piece, thin.rate_hz, judged.hz));
  const double carried = comb->lowest ? 0 : kCarriedOver * hz;
  heard.pitch = hz * hertz;
  heard.uncertainty =
      std::hypot(noise_of_place(judged.over_noise, seconds), drift, carried * number) / number *
      hertz;
  if (comb->lowest) heard.beside = beside_of(peaks, *comb->lowest);
  return heard;
}

}  // namespace rollwright::mech
