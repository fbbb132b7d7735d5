#include "mech/wav.hpp"

#include <gtest/gtest.h>

#include <bit>
#include <cmath>
#include <cstdint>
#include <limits>

#include "base/random.hpp"

namespace rollwright::mech {
namespace {

void put(std::string& bytes, std::uint64_t value, int count) {
  for (int i = 0; i < count; ++i) bytes += static_cast<char>(value >> (8 * i) & 0xFF);
}

struct WavMade {
  int kind = 1;
  int channels = 1;
  std::uint32_t rate = 48000;
  int bits = 16;
  std::string data;
  std::string before_data;  // whole chunks
};

/// A WAV file written apart from the product's own writer.
std::string wav_of(const WavMade& made) {
  std::string bytes = "RIFF";
  put(bytes, 36 + made.before_data.size() + made.data.size(), 4);
  bytes += "WAVEfmt ";
  put(bytes, 16, 4);
  put(bytes, static_cast<std::uint64_t>(made.kind), 2);
  put(bytes, static_cast<std::uint64_t>(made.channels), 2);
  put(bytes, made.rate, 4);
  put(bytes, made.rate * static_cast<unsigned>(made.channels * made.bits / 8), 4);
  put(bytes, static_cast<std::uint64_t>(made.channels * made.bits / 8), 2);
  put(bytes, static_cast<std::uint64_t>(made.bits), 2);
  bytes += made.before_data + "data";
  put(bytes, made.data.size(), 4);
  return bytes + made.data;
}

std::string samples_of(std::initializer_list<std::uint64_t> values, int bytes_each) {
  std::string data;
  for (const std::uint64_t value : values) put(data, value, bytes_each);
  return data;
}

TEST(Wav, ReadsEveryWidthOfSample) {
  struct Row {
    int kind, bits;
    std::string data;
  };
  const auto single = [](float value) -> std::uint64_t {
    return std::bit_cast<std::uint32_t>(value);
  };
  const auto twice = [](double value) { return std::bit_cast<std::uint64_t>(value); };
  const Row rows[] = {
      {1, 8, samples_of({128, 192, 0}, 1)},
      {1, 16, samples_of({0, 16384, 0x8000}, 2)},
      {1, 24, samples_of({0, 0x400000, 0x800000}, 3)},
      {1, 32, samples_of({0, 0x40000000, 0x80000000}, 4)},
      {3, 32, samples_of({0, single(0.5F), single(-1)}, 4)},
      {3, 64, samples_of({0, twice(0.5), twice(-1)}, 8)},
  };
  for (const Row& row : rows) {
    const auto sound = read_wav(wav_of({.kind = row.kind, .bits = row.bits, .data = row.data}));
    ASSERT_TRUE(sound) << row.bits << " bits: " << sound.error().full();
    EXPECT_EQ(sound->samples, (std::vector<double>{0, 0.5, -1})) << row.bits << " bits";
    EXPECT_EQ(sound->rate_hz, 48000);
  }
}

TEST(Wav, KeepsTheLouderOfTwoChannels) {
  const auto sound =
      read_wav(wav_of({.channels = 2, .data = samples_of({100, 16384, 0xFF9C, 0xC000}, 2)}));
  ASSERT_TRUE(sound);
  EXPECT_EQ(sound->samples, (std::vector<double>{0.5, -0.5}));
}

TEST(Wav, PassesOverUnknownChunksOfOddSize) {
  std::string note = "note";
  put(note, 3, 4);
  note += "abc";
  note += '\0';
  const auto sound = read_wav(wav_of({.data = samples_of({16384}, 2), .before_data = note}));
  ASSERT_TRUE(sound) << sound.error().full();
  EXPECT_EQ(sound->samples, std::vector<double>{0.5});
}

TEST(Wav, SaysWhatIsWrong) {
  const std::string good = samples_of({1, 2}, 2);
  const auto code_of = [](const std::string& bytes) {
    const auto sound = read_wav(bytes, "pluck.wav");
    EXPECT_FALSE(sound);
    if (!sound) {
      EXPECT_EQ(sound.error().place.file, "pluck.wav");
      EXPECT_GT(sound.error().sentence.size(), 20u);
    }
    return sound ? Code::kUnavailable : sound.error().code;
  };
  EXPECT_EQ(code_of(""), Code::kBadInput);
  EXPECT_EQ(code_of("<html>this is no sound</html>"), Code::kBadInput);
  EXPECT_EQ(code_of(wav_of({.data = good}).substr(0, 46)), Code::kBadInput);
  EXPECT_EQ(code_of(wav_of({.data = ""})), Code::kBadInput);
  EXPECT_EQ(code_of(wav_of({.kind = 2, .data = good})), Code::kBadInput);
  EXPECT_EQ(code_of(wav_of({.bits = 12, .data = good})), Code::kBadInput);
  EXPECT_EQ(code_of(wav_of({.channels = 6, .data = good})), Code::kOutOfRange);
  EXPECT_EQ(code_of(wav_of({.channels = 0, .data = good})), Code::kOutOfRange);
  EXPECT_EQ(code_of(wav_of({.rate = 7999, .data = good})), Code::kOutOfRange);
  EXPECT_EQ(code_of(wav_of({.rate = 192001, .data = good})), Code::kOutOfRange);
  EXPECT_EQ(code_of(wav_of({.rate = 8000, .data = std::string(2 * 8000 * 31, '\0')})),
            Code::kTooLarge);
  const float nothing = std::numeric_limits<float>::quiet_NaN();
  EXPECT_EQ(code_of(wav_of({.kind = 3,
                            .bits = 32,
                            .data = samples_of({std::bit_cast<std::uint32_t>(nothing)}, 4)})),
            Code::kBadInput);
}

TEST(Wav, KnowsAnOverdrivenRecording) {
  EXPECT_EQ(read_wav(wav_of({.data = samples_of({0x7FFF, 0x8000, 0, 5}, 2)}))->clipped_share, 0.5);
}

TEST(Wav, ComesBackAsItWasWritten) {
  Sound sound{.rate_hz = 44100};
  for (int i = 0; i < 500; ++i) sound.samples.push_back(std::lround(9000 * std::sin(i)) / 32768.0);
  const auto bytes = write_wav(sound);
  ASSERT_TRUE(bytes);
  const auto back = read_wav(*bytes);
  ASSERT_TRUE(back);
  EXPECT_EQ(back->samples, sound.samples);
  EXPECT_FALSE(write_wav({.rate_hz = 100, .samples = {0, 0}}));
  EXPECT_FALSE(write_wav({.rate_hz = 44100}));
}

TEST(Wav, EndsInASoundOrARefusalWhateverTheBytes) {
  // Mutations of good files; memory faults show under the sanitizers, nonsense in the checks here.
  Random random(71);
  int read = 0;
  for (int i = 0; i < 20000; ++i) {
    std::string bytes = wav_of({.kind = i % 2 == 0 ? 1 : 3,
                                .channels = 1 + i % 3 % 2,
                                .bits = i % 2 == 0 ? 24 : 32,
                                .data = std::string(96, '\0')});
    for (std::uint64_t n = 1 + random.below(6); n > 0; --n) {
      bytes[random.below(bytes.size())] = static_cast<char>(random.below(256));
    }
    if (random.below(3) == 0) bytes.resize(random.below(bytes.size()));
    const auto sound = read_wav(bytes);
    read += sound.has_value();
    if (!sound) {
      ASSERT_FALSE(sound.error().sentence.empty()) << "seed 71, case " << i;
      continue;
    }
    ASSERT_FALSE(sound->samples.empty()) << "seed 71, case " << i;
    ASSERT_LE(sound->samples.size(), 96u) << "seed 71, case " << i;
    for (const double sample : sound->samples) ASSERT_LE(std::fabs(sample), 100);
  }
  EXPECT_GT(read, 500);
  EXPECT_LT(read, 19000);
}

}  // namespace
}  // namespace rollwright::mech
