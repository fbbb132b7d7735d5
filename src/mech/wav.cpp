#include "mech/wav.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdint>
#include <optional>

#include "base/text.hpp"
#include "mech/field_range.hpp"

namespace rollwright::mech {
namespace {

constexpr double kLeastRate = 8000;
constexpr double kMostRate = 192000;
constexpr double kMostFloatSample = 100;  // full scale is 1; far beyond it the file is no sound

/// Whole number of `count` bytes, least byte first.
std::uint64_t little_endian(std::string_view bytes, std::size_t at, std::size_t count) {
  std::uint64_t value = 0;
  for (std::size_t i = 0; i < count; ++i) {
    value |= std::uint64_t{static_cast<unsigned char>(bytes[at + i])} << (8 * i);
  }
  return value;
}

struct WavFormat {
  bool floating = false;
  int channels = 0;
  double rate_hz = 0;
  std::size_t sample_bytes = 0;
};

std::unexpected<Error> wav_refused(Code code, std::string sentence, const std::string& file) {
  return refuse(code, std::move(sentence), {.file = file});
}

constexpr std::uint64_t kWholeNumbers = 1, kFloatingPoint = 3, kExtensible = 0xFFFE;

Result<WavFormat> wav_format(std::string_view chunk, const std::string& file) {
  if (chunk.size() < 16) {
    return wav_refused(Code::kBadInput, "The WAV file's format is cut short.", file);
  }
  std::uint64_t kind = little_endian(chunk, 0, 2);
  if (kind == kExtensible && chunk.size() >= 26) kind = little_endian(chunk, 24, 2);
  const auto bits = little_endian(chunk, 14, 2);
  WavFormat format{.floating = kind == kFloatingPoint,
                   .channels = static_cast<int>(little_endian(chunk, 2, 2)),
                   .rate_hz = static_cast<double>(little_endian(chunk, 4, 4)),
                   .sample_bytes = bits / 8};
  const bool whole = kind == kWholeNumbers && (bits == 8 || bits == 16 || bits == 24 || bits == 32);
  const bool floating = format.floating && (bits == 32 || bits == 64);
  if (!whole && !floating) {
    return wav_refused(Code::kBadInput,
                       fmt::format("This WAV file holds sound of kind {} with {} bits; save it "
                                   "without packing, with 16 or 24 bits.",
                                   kind, bits),
                       file);
  }
  if (auto error =
          first_outside({{"channels", static_cast<double>(format.channels), 1, 2, ""},
                         {"samples a second", format.rate_hz, kLeastRate, kMostRate, "Hz"}})) {
    error->place.file = file;
    return std::unexpected(*error);
  }
  if (little_endian(chunk, 12, 2) != format.sample_bytes * static_cast<unsigned>(format.channels)) {
    return wav_refused(Code::kBadInput,
                       "The WAV file contradicts itself: its block size is not its channels times "
                       "their bytes.",
                       file);
  }
  return format;
}

/// One sample over full scale.
double wav_sample(std::string_view data, std::size_t at, const WavFormat& format) {
  const std::uint64_t raw = little_endian(data, at, format.sample_bytes);
  if (format.floating && format.sample_bytes == 4) {
    return static_cast<double>(std::bit_cast<float>(static_cast<std::uint32_t>(raw)));
  }
  if (format.floating) return std::bit_cast<double>(raw);
  if (format.sample_bytes == 1) return (static_cast<double>(raw) - 128) / 128;
  const auto shift = 64 - 8 * static_cast<int>(format.sample_bytes);
  const auto value = static_cast<std::int64_t>(raw << shift) >> shift;  // keeps the sign
  return static_cast<double>(value) / static_cast<double>(std::int64_t{1} << (63 - shift));
}

double sum_of_squares(const std::vector<double>& samples) {
  double sum = 0;
  for (const double sample : samples) sum += sample * sample;
  return sum;
}

double share_at_full_scale(const std::vector<double>& samples) {
  const auto full = std::count_if(samples.begin(), samples.end(),
                                  [](double sample) { return std::fabs(sample) >= 0.992; });
  return static_cast<double>(full) / static_cast<double>(samples.size());
}

Result<Sound> wav_sound(std::string_view data, const WavFormat& format, const std::string& file) {
  const std::size_t block = format.sample_bytes * static_cast<std::size_t>(format.channels);
  const std::size_t count = data.size() / block;
  if (count == 0) return wav_refused(Code::kBadInput, "The WAV file holds no sound.", file);
  const double seconds = static_cast<double>(count) / format.rate_hz;
  if (seconds > kMostSoundSeconds) {
    return wav_refused(Code::kTooLarge,
                       fmt::format("The recording is {} s long; cut it to {} s around the pluck.",
                                   rounded(seconds, 1), rounded(kMostSoundSeconds, 0)),
                       file);
  }
  std::vector<double> channels[2];
  for (int channel = 0; channel < format.channels; ++channel) {
    channels[channel].reserve(count);
    for (std::size_t i = 0; i < count; ++i) {
      const std::size_t at = i * block + static_cast<std::size_t>(channel) * format.sample_bytes;
      const double sample = wav_sample(data, at, format);
      if (!(std::fabs(sample) <= kMostFloatSample)) {
        return wav_refused(Code::kBadInput,
                           fmt::format("Sample {} of the WAV file is no number near full scale; "
                                       "the file is damaged.",
                                       i + 1),
                           file);
      }
      channels[channel].push_back(sample);
    }
  }
  const bool second = sum_of_squares(channels[1]) > sum_of_squares(channels[0]);
  Sound sound{format.rate_hz, std::move(channels[second ? 1 : 0])};
  sound.clipped_share = share_at_full_scale(sound.samples);
  return sound;
}

void append_little_endian(std::string& bytes, std::uint64_t value, int count) {
  for (int i = 0; i < count; ++i) bytes += static_cast<char>(value >> (8 * i) & 0xFF);
}

}  // namespace

Result<Sound> read_wav(std::string_view bytes, const std::string& file) {
  if (bytes.size() > kMostWavBytes) {
    return wav_refused(Code::kTooLarge, "The file is over 64 MiB; cut it around the pluck.", file);
  }
  if (bytes.size() < 12 || bytes.substr(0, 4) != "RIFF" || bytes.substr(8, 4) != "WAVE") {
    return wav_refused(Code::kBadInput, "This is not a WAV file; save the recording as WAV.", file);
  }
  std::optional<WavFormat> format;
  for (std::size_t at = 12; bytes.size() - at >= 8;) {
    const std::string_view name = bytes.substr(at, 4);
    const std::size_t size = little_endian(bytes, at + 4, 4);
    at += 8;
    if (size > bytes.size() - at) {
      return wav_refused(Code::kBadInput,
                         "The WAV file ends before its sound does; record or copy it again.", file);
    }
    if (name == "fmt ") {
      auto read = wav_format(bytes.substr(at, size), file);
      if (!read) return std::unexpected(read.error());
      format = *read;
    }
    if (name == "data" && !format) {
      return wav_refused(Code::kBadInput, "The WAV file gives its sound before its format.", file);
    }
    if (name == "data") return wav_sound(bytes.substr(at, size), *format, file);
    at = std::min(bytes.size(), at + size + size % 2);  // chunks begin at even places
  }
  return wav_refused(Code::kBadInput, "The WAV file holds no sound.", file);
}

Result<std::string> write_wav(const Sound& sound) {
  const double seconds = static_cast<double>(sound.samples.size()) / sound.rate_hz;
  if (auto error =
          first_outside({{"samples a second", sound.rate_hz, kLeastRate, kMostRate, "Hz"},
                         {"length", seconds, 1 / sound.rate_hz, kMostSoundSeconds, "s"}})) {
    return std::unexpected(*error);
  }
  const auto rate = static_cast<std::uint64_t>(std::lround(sound.rate_hz));
  const std::uint64_t size = 2 * sound.samples.size();
  std::string bytes = "RIFF";
  append_little_endian(bytes, 36 + size, 4);
  bytes += "WAVEfmt ";
  append_little_endian(bytes, 16, 4);
  append_little_endian(bytes, kWholeNumbers, 2);
  append_little_endian(bytes, 1, 2);
  append_little_endian(bytes, rate, 4);
  append_little_endian(bytes, 2 * rate, 4);
  append_little_endian(bytes, 2, 2);
  append_little_endian(bytes, 16, 2);
  bytes += "data";
  append_little_endian(bytes, size, 4);
  for (const double sample : sound.samples) {
    const auto whole = std::lround(std::clamp(sample, -1.0, 32767.0 / 32768) * 32768);
    append_little_endian(bytes, static_cast<std::uint64_t>(whole), 2);
  }
  return bytes;
}

}  // namespace rollwright::mech
