#include "pictures/small_copy.hpp"

#include <array>
#include <csetjmp>
#include <cstdlib>
#include <functional>
#include <vector>

#include <gtest/gtest.h>
#include <png.h>

#include "base/random.hpp"
#include "pictures/camera_turn.hpp"
#include "pictures/jpeg_trouble.hpp"
#include "pictures/pixels.hpp"
#include "pictures/write_jpeg.hpp"

// The pictures in these tests are made of numbers; nobody took them.
namespace rollwright::pictures {
namespace {

using namespace std::string_literals;

using Colour = std::array<std::uint8_t, 3>;
constexpr Colour kRed = {220, 30, 30};
constexpr Colour kGreen = {30, 200, 40};
constexpr Colour kBlue = {30, 40, 210};
constexpr Colour kYellow = {230, 220, 40};

Pixels painted(int width, int height, const std::function<Colour(int, int)>& colour) {
  Pixels pixels{.width = width, .height = height, .rgb = {}};
  for (int y = 0; y < height; ++y) {
    for (int x = 0; x < width; ++x) {
      const Colour at = colour(x, y);
      pixels.rgb.insert(pixels.rgb.end(), at.begin(), at.end());
    }
  }
  return pixels;
}

/// Quarters of four colours: red, green over blue, yellow.
Pixels quarters(int width, int height) {
  return painted(width, height, [=](int x, int y) {
    const bool left = x < width / 2;
    return y < height / 2 ? (left ? kRed : kGreen) : (left ? kBlue : kYellow);
  });
}

Pixels noise(int width, int height, std::uint64_t seed) {
  Random random(seed);
  return painted(width, height, [&random](int, int) {
    const std::uint64_t bits = random.bits();
    return Colour{static_cast<std::uint8_t>(bits), static_cast<std::uint8_t>(bits >> 8),
                  static_cast<std::uint8_t>(bits >> 16)};
  });
}

struct JpegAs {
  J_COLOR_SPACE colours = JCS_YCbCr;
  bool is_progressive = false;
  bool is_whole = false;   // colours as fine as light: 4:4:4
  int single_scans = 0;    // of one coefficient each, 1 to 63, for each colour
};

/// A JPEG of another kind than write_jpeg writes. `values` has as many numbers to a pixel as the
/// colours given.
std::string jpeg_of(int width, int height, const std::vector<std::uint8_t>& values,
                    const JpegAs& as) {
  static JpegTrouble trouble;
  static jpeg_compress_struct info;
  static unsigned char* bytes;
  static std::vector<jpeg_scan_info> scans;
  unsigned long size = 0;
  bytes = nullptr;
  info.err = trouble.hear();
  if (setjmp(trouble.way_out) != 0) return trouble.said.data();
  jpeg_create_compress(&info);
  jpeg_mem_dest(&info, &bytes, &size);
  info.image_width = static_cast<JDIMENSION>(width);
  info.image_height = static_cast<JDIMENSION>(height);
  info.input_components = static_cast<int>(values.size()) / (width * height);
  info.in_color_space = info.input_components == 1   ? JCS_GRAYSCALE
                        : info.input_components == 4 ? JCS_CMYK
                                                     : JCS_RGB;
  jpeg_set_defaults(&info);
  jpeg_set_colorspace(&info, as.colours);
  if (as.is_whole) info.comp_info[0].h_samp_factor = info.comp_info[0].v_samp_factor = 1;
  if (as.is_progressive) jpeg_simple_progression(&info);
  if (as.single_scans > 0) {
    scans = {{.comps_in_scan = 3, .component_index = {0, 1, 2}}};
    for (int of = 0; of < 3; ++of) {
      for (int at = 1; at <= as.single_scans; ++at) {
        scans.push_back({.comps_in_scan = 1, .component_index = {of}, .Ss = at, .Se = at});
      }
    }
    info.scan_info = scans.data();
    info.num_scans = static_cast<int>(scans.size());
  }
  jpeg_start_compress(&info, TRUE);
  while (info.next_scanline < info.image_height) {
    auto* row = const_cast<unsigned char*>(values.data()) +
                static_cast<std::size_t>(info.next_scanline) * values.size() / info.image_height;
    jpeg_write_scanlines(&info, &row, 1);
  }
  jpeg_finish_compress(&info);
  std::string jpeg(reinterpret_cast<const char*>(bytes), size);
  jpeg_destroy_compress(&info);
  std::free(bytes);
  return jpeg;
}

std::string png_of(int width, int height, const std::vector<std::uint8_t>& values,
                   std::uint32_t format) {
  png_image image{};
  image.version = PNG_IMAGE_VERSION;
  image.width = static_cast<png_uint_32>(width);
  image.height = static_cast<png_uint_32>(height);
  image.format = format;
  png_alloc_size_t size = 0;
  png_image_write_to_memory(&image, nullptr, &size, 0, values.data(), 0, nullptr);
  std::string png(size, '\0');
  EXPECT_NE(png_image_write_to_memory(&image, png.data(), &size, 0, values.data(), 0, nullptr), 0);
  png.resize(size);
  return png;
}

std::string short_of(int number, bool is_little) {
  const char low = static_cast<char>(number & 0xFF);
  const char high = static_cast<char>(number >> 8);
  return is_little ? std::string{low, high} : std::string{high, low};
}

/// What a camera writes of how it was held, after another entry.
std::string block_saying(int turn, bool is_little) {
  const auto s = [is_little](int number) { return short_of(number, is_little); };
  const auto l = [&](int number) { return is_little ? s(number) + s(0) : s(0) + s(number); };
  return "Exif\0\0"s + (is_little ? "II" : "MM") + s(42) + l(8) + s(2) +
         s(0x0100) + s(4) + l(1) + l(4000) +               // a width
         s(0x0112) + s(3) + l(1) + s(turn) + s(0) + l(0);  // the turn; no further list
}

std::string with_block(const std::string& jpeg, const std::string& block) {
  return jpeg.substr(0, 2) + "\xFF\xE1"s + short_of(static_cast<int>(block.size()) + 2, false) +
         block + jpeg.substr(2);
}

/// The small copy as whoever looks at it sees it.
Pixels seen(const SmallCopy& copy) {
  JpegTrouble trouble;
  jpeg_decompress_struct info{};
  info.err = trouble.hear();
  if (setjmp(trouble.way_out) != 0) {
    ADD_FAILURE() << trouble.said.data();
    return {};
  }
  jpeg_create_decompress(&info);
  jpeg_mem_src(&info, reinterpret_cast<const unsigned char*>(copy.jpeg.data()), copy.jpeg.size());
  jpeg_read_header(&info, TRUE);
  info.out_color_space = JCS_RGB;
  jpeg_start_decompress(&info);
  static Pixels pixels;
  pixels = {.width = static_cast<int>(info.output_width),
            .height = static_cast<int>(info.output_height)};
  pixels.rgb.resize(std::size_t{info.output_width} * info.output_height * 3);
  while (info.output_scanline < info.output_height) {
    unsigned char* row = &pixels.rgb[std::size_t{info.output_scanline} * info.output_width * 3];
    jpeg_read_scanlines(&info, &row, 1);
  }
  jpeg_finish_decompress(&info);
  jpeg_destroy_decompress(&info);
  return pixels;
}

/// The colour in the middle of a quarter, where no edge blurs it.
Colour in_quarter(const Pixels& pixels, bool is_right, bool is_low) {
  const int x = pixels.width * (is_right ? 3 : 1) / 4;
  const int y = pixels.height * (is_low ? 3 : 1) / 4;
  const auto* at = &pixels.rgb[static_cast<std::size_t>(y * pixels.width + x) * 3];
  return {at[0], at[1], at[2]};
}

void expect_near(const Colour& is, const Colour& wanted, const std::string& what) {
  constexpr int kTolerance = 8;  // of 255, what a JPEG of quality 80 loses on plain colour
  for (std::size_t i = 0; i < 3; ++i) {
    EXPECT_NEAR(is[i], wanted[i], kTolerance) << what << ", colour " << i;
  }
}

std::string refusal_of(const std::string& bytes) {
  const Result<SmallCopy> copy = small_copy(bytes);
  if (copy) return "made";
  EXPECT_EQ(copy.error().code, Code::kRefused);
  return copy.error().sentence;
}

void expect_refused(const std::string& bytes, const std::string& reason) {
  const std::string sentence = refusal_of(bytes);
  EXPECT_NE(sentence.find(reason), std::string::npos) << sentence;
}

TEST(SmallCopy, HasTheShapeOfThePictureAndItsColours) {
  const SmallCopy copy = small_copy(write_jpeg(quarters(4000, 3000), 90)).value();
  EXPECT_EQ(copy.width, 320);
  EXPECT_EQ(copy.height, 240);
  const Pixels pixels = seen(copy);
  ASSERT_EQ(pixels.width, 320);
  ASSERT_EQ(pixels.height, 240);
  expect_near(in_quarter(pixels, false, false), kRed, "top left");
  expect_near(in_quarter(pixels, true, false), kGreen, "top right");
  expect_near(in_quarter(pixels, false, true), kBlue, "bottom left");
  expect_near(in_quarter(pixels, true, true), kYellow, "bottom right");
  EXPECT_LT(copy.jpeg.size(), 20'000U);
}

TEST(SmallCopy, IsTheSameForTheSameBytes) {
  const std::string jpeg = write_jpeg(noise(700, 500, 1), 90);
  EXPECT_EQ(small_copy(jpeg).value(), small_copy(jpeg).value());
}

/// The table of the standard: what the first row and the first column of the file are to the eye.
struct Turn {
  int turn;
  bool rows_run_down;  // the first row is a top or bottom edge; otherwise a left or right one
  bool first_row_is_low_or_right;
  bool first_column_is_low_or_right;
};
constexpr Turn kTurns[] = {
    {1, true, false, false},  // top, left
    {2, true, false, true},   // top, right
    {3, true, true, true},    // bottom, right
    {4, true, true, false},   // bottom, left
    {5, false, false, false}, // left, top
    {6, false, true, false},  // right, top
    {7, false, true, true},   // right, bottom
    {8, false, false, true},  // left, bottom
};

TEST(SmallCopy, IsUprightHoweverTheCameraWasHeld) {
  const std::string jpeg = write_jpeg(quarters(1200, 800), 90);
  for (const bool is_little : {false, true}) {
    for (const Turn& turn : kTurns) {
      const std::string held = with_block(jpeg, block_saying(turn.turn, is_little));
      const SmallCopy copy = small_copy(held).value();
      EXPECT_EQ(copy.width, turn.rows_run_down ? 320 : 213) << turn.turn;
      EXPECT_EQ(copy.height, turn.rows_run_down ? 213 : 320) << turn.turn;
      const Pixels pixels = seen(copy);
      for (const bool last_row : {false, true}) {
        for (const bool last_column : {false, true}) {
          const Colour wanted = last_row ? (last_column ? kYellow : kBlue)
                                         : (last_column ? kGreen : kRed);
          const bool by_row = turn.first_row_is_low_or_right != last_row;
          const bool by_column = turn.first_column_is_low_or_right != last_column;
          const Colour is = turn.rows_run_down ? in_quarter(pixels, by_column, by_row)
                                               : in_quarter(pixels, by_row, by_column);
          expect_near(is, wanted, "turn " + std::to_string(turn.turn));
        }
      }
    }
  }
}

TEST(SmallCopy, OfAPictureWhoseTurnCannotBeReadIsNotTurned) {
  const std::string jpeg = write_jpeg(quarters(64, 48), 90);
  for (const int turn : {0, 9, 255}) {
    EXPECT_EQ(small_copy(with_block(jpeg, block_saying(turn, true))).value().width, 64) << turn;
  }
  const std::string whole = block_saying(6, true);
  for (std::size_t length = 0; length < whole.size(); ++length) {
    const int turn = camera_turn(std::string_view(whole).substr(0, length));
    EXPECT_EQ(turn, length < 38 ? 1 : 6) << length;
  }
  Random random(4);
  for (int i = 0; i < 20'000; ++i) {
    std::string block = whole;
    for (int change = 0; change < 3; ++change) {
      block[random.below(block.size())] = static_cast<char>(random.bits());
    }
    const int turn = camera_turn(block);
    ASSERT_TRUE(1 <= turn && turn <= 8) << turn;
  }
}

TEST(SmallCopy, IsNeverLargerThanThePicture) {
  const Pixels one = painted(1, 1, [](int, int) { return kGreen; });
  const SmallCopy point = small_copy(write_jpeg(one, 90)).value();
  EXPECT_EQ(point.width, 1);
  EXPECT_EQ(point.height, 1);
  const SmallCopy of_png = small_copy(png_of(1, 1, {30, 40, 210}, PNG_FORMAT_RGB)).value();
  EXPECT_EQ(of_png.width, 1);
  expect_near(in_quarter(seen(of_png), false, false), kBlue, "one point");
  const SmallCopy just = small_copy(write_jpeg(quarters(320, 200), 90)).value();
  EXPECT_EQ(just.width, 320);
  EXPECT_EQ(just.height, 200);
  const Pixels row = painted(20'000, 1, [](int, int) { return kRed; });
  const SmallCopy line = small_copy(write_jpeg(row, 90)).value();
  EXPECT_EQ(line.width, 320);
  EXPECT_EQ(line.height, 1);
}

TEST(SmallCopy, IsMadeOfEveryKindOfJpegThatACameraWrites) {
  const Pixels pixels = quarters(900, 600);
  const std::vector<std::uint8_t> grey(std::size_t{900} * 600, 120);
  EXPECT_EQ(small_copy(jpeg_of(900, 600, pixels.rgb, {.is_progressive = true})).value().width, 320);
  EXPECT_EQ(small_copy(jpeg_of(900, 600, pixels.rgb, {.is_whole = true})).value().width, 320);
  EXPECT_EQ(small_copy(jpeg_of(900, 600, pixels.rgb, {.colours = JCS_RGB})).value().width, 320);
  const Pixels seen_grey =
      seen(small_copy(jpeg_of(900, 600, grey, {.colours = JCS_GRAYSCALE})).value());
  expect_near(in_quarter(seen_grey, true, true), {120, 120, 120}, "grey");
}

TEST(SmallCopy, OfWhatCanBeSeenThroughLiesOverWhite) {
  std::vector<std::uint8_t> rgba;
  for (int i = 0; i < 400 * 300; ++i) {
    rgba.insert(rgba.end(), {220, 30, 30, static_cast<std::uint8_t>(i % 400 < 200 ? 0 : 255)});
  }
  const Pixels pixels = seen(small_copy(png_of(400, 300, rgba, PNG_FORMAT_RGBA)).value());
  EXPECT_EQ(pixels.width, 320);
  expect_near(in_quarter(pixels, false, false), {255, 255, 255}, "seen through");
  expect_near(in_quarter(pixels, true, false), kRed, "solid");
}

TEST(SmallCopy, OfEightAndSixteenBitsOfGreyIsMade) {
  const std::vector<std::uint8_t> grey(std::size_t{640} * 480, 200);
  const Pixels pixels = seen(small_copy(png_of(640, 480, grey, PNG_FORMAT_GRAY)).value());
  expect_near(in_quarter(pixels, false, true), {200, 200, 200}, "grey");
  std::vector<std::uint8_t> fine;  // 16 bits to a colour, as light is, little end first
  for (int i = 0; i < 640 * 480 * 3; ++i) fine.insert(fine.end(), {0xFF, 0xFF});
  const Pixels white = seen(small_copy(png_of(640, 480, fine, PNG_FORMAT_LINEAR_RGB)).value());
  expect_near(in_quarter(white, false, true), {255, 255, 255}, "white");
}

TEST(SmallCopy, SaysOfAFileThatBreaksOffThatItDoes) {
  const std::string jpeg = write_jpeg(quarters(900, 600), 80);
  expect_refused(jpeg.substr(0, jpeg.size() / 2), "breaks off");
  expect_refused(jpeg.substr(0, jpeg.size() - 2), "breaks off");
  const std::string png = png_of(900, 600, quarters(900, 600).rgb, PNG_FORMAT_RGB);
  expect_refused(png.substr(0, png.size() / 2), "cut short or damaged");
}

TEST(SmallCopy, IsRefusedAtEveryPlaceWhereAFileCanBreakOff) {
  const Pixels pixels = quarters(40, 30);
  for (const std::string& whole :
       {write_jpeg(pixels, 80), jpeg_of(40, 30, pixels.rgb, {.is_progressive = true}),
        png_of(40, 30, pixels.rgb, PNG_FORMAT_RGB)}) {
    ASSERT_TRUE(small_copy(whole));
    // The last segment of a PNG says only that it is the end; without it the picture is whole.
    const std::size_t end = whole.starts_with("\x89PNG") ? whole.size() - 12 : whole.size();
    for (std::size_t length = 0; length < end; ++length) {
      const std::string cut = whole.substr(0, length);
      EXPECT_NE(refusal_of(cut), "made") << length << " of " << whole.size();
    }
  }
}

TEST(SmallCopy, OfWhatIsNoPictureIsRefused) {
  expect_refused("", "neither a JPEG nor a PNG");
  expect_refused("GIF89a", "neither a JPEG nor a PNG");
  expect_refused("\xFF\xD8\xFF\xE0 and nothing that a JPEG has", "picture");
  expect_refused("\x89PNG\r\n\x1A\n"s, "cut short or damaged");
  const std::vector<std::uint8_t> inks(std::size_t{64} * 64 * 4, 90);
  expect_refused(jpeg_of(64, 64, inks, {.colours = JCS_CMYK}), "those for print");
  expect_refused(jpeg_of(64, 64, inks, {.colours = JCS_YCCK}), "those for print");
}

/// A JPEG whose head says another size than it has.
std::string sized(std::string jpeg, int width, int height) {
  for (const char kind : {'\xC0', '\xC2'}) {
    const std::size_t at = jpeg.find("\xFF"s + kind);
    if (at == std::string::npos) continue;
    jpeg.replace(at + 5, 4, short_of(height, false) + short_of(width, false));
  }
  return jpeg;
}

std::string long_of(std::uint32_t number) {
  return short_of(static_cast<int>(number >> 16), false) +
         short_of(static_cast<int>(number & 0xFFFF), false);
}

/// The check that follows each segment of a PNG: CRC-32 as in RFC 2083, annex 15.
std::string check_of(const std::string& bytes) {
  std::uint32_t crc = 0xFFFFFFFF;
  for (const char c : bytes) {
    crc ^= static_cast<unsigned char>(c);
    for (int bit = 0; bit < 8; ++bit) crc = (crc & 1) != 0 ? 0xEDB88320 ^ crc >> 1 : crc >> 1;
  }
  crc = ~crc;
  return long_of(crc);
}

std::string png_sized(std::string png, std::uint32_t width, std::uint32_t height) {
  png.replace(16, 8, long_of(width) + long_of(height));
  return png.replace(29, 4, check_of(png.substr(12, 17)));
}

TEST(SmallCopy, TakesNothingApartThatUnfoldsBeyondTheLimits) {
  const std::string plain = write_jpeg(quarters(64, 64), 80);
  expect_refused(sized(plain, 65'000, 65'000), "65000 x 65000 pixels");
  expect_refused(sized(plain, 7212, 7211), "at most 52 million");
  expect_refused(sized(plain, 7211, 7211), "breaks off");  // just small enough to begin with
  expect_refused(sized(plain, 64, 0), "");
  const std::string png = png_of(64, 64, quarters(64, 64).rgb, PNG_FORMAT_RGB);
  expect_refused(png_sized(png, 900'000, 900'000), "900000 x 900000 pixels");
  expect_refused(png_sized(png, 2'000'000'000, 1), "cut short or damaged");
  // Every scan of it adds to all of the picture, so that all of it must be held.
  const std::string fine =
      jpeg_of(64, 64, quarters(64, 64).rgb, {.is_progressive = true, .is_whole = true});
  expect_refused(sized(fine, 7000, 7000), "more than 200 MiB");
  const auto scans = [](int each) {
    return jpeg_of(64, 64, quarters(64, 64).rgb, {.single_scans = each});
  };
  EXPECT_TRUE(small_copy(scans(16))) << refusal_of(scans(16));
  expect_refused(scans(17), "more than 50 scans");
}

TEST(SmallCopy, OfTheLargestPictureIsMadeThoughTheFileIsTiny) {
  const std::string png =
      png_of(7211, 7211, std::vector<std::uint8_t>(std::size_t{7211} * 7211, 255), PNG_FORMAT_GRAY);
  EXPECT_LT(png.size(), 100'000U);
  const SmallCopy copy = small_copy(png).value();
  EXPECT_EQ(copy.width, 320);
  EXPECT_EQ(copy.height, 320);
}

/// Any bytes end in a copy of a stated size or in a refusal: pictures with a few bytes changed.
TEST(SmallCopy, SurvivesWhateverIsDoneToTheBytes) {
  const std::vector<std::string> whole = {
      with_block(write_jpeg(quarters(48, 32), 80), block_saying(6, true)),
      jpeg_of(48, 32, quarters(48, 32).rgb, {.is_progressive = true}),
      png_of(48, 32, quarters(48, 32).rgb, PNG_FORMAT_RGB),
      png_of(48, 32, std::vector<std::uint8_t>(std::size_t{48} * 32 * 4, 77), PNG_FORMAT_RGBA)};
  constexpr std::uint64_t kSeed = 20;
  Random random(kSeed);
  int made = 0;
  for (int i = 0; i < 6000; ++i) {
    std::string bytes = whole[random.below(whole.size())];
    const std::uint64_t changes = 1 + random.below(6);
    for (std::uint64_t change = 0; change < changes; ++change) {
      bytes[random.below(bytes.size())] = static_cast<char>(random.bits());
    }
    if (random.below(8) == 0) bytes.resize(random.below(bytes.size()));
    const Result<SmallCopy> copy = small_copy(bytes);
    if (!copy) continue;
    ++made;
    const auto is_small = [](int side) { return 1 <= side && side <= kSmallSide; };
    ASSERT_TRUE(is_small(copy->width) && is_small(copy->height)) << kSeed << ", " << i;
    ASSERT_TRUE(copy->jpeg.starts_with("\xFF\xD8\xFF"));
  }
  EXPECT_GT(made, 100) << "bytes beside the picture, or a colour that is another one";
}

TEST(Shrinking, GivesTheMeanOfWhatEachPixelCovers) {
  // 3 x 2 to 2 x 1: each pixel of the outcome covers one and a half columns and both rows.
  Shrinking shrinking(3, 2, 2);
  const std::uint8_t first[] = {0, 0, 0, 90, 90, 90, 30, 60, 120};
  const std::uint8_t second[] = {60, 60, 60, 30, 30, 30, 30, 60, 120};
  shrinking.add(first);
  shrinking.add(second);
  const Pixels pixels = shrinking.outcome();
  ASSERT_EQ(pixels.width, 2);
  ASSERT_EQ(pixels.height, 1);
  // (0 + 60 + (90 + 30) / 2) / 3 and ((90 + 30) / 2 + 2 * 30, 60, 120) / 3
  EXPECT_EQ(pixels.rgb, (std::vector<std::uint8_t>{40, 40, 40, 40, 60, 100}));
}

TEST(Shrinking, AgreesWithASlowMeanOverTheArea) {
  Random random(9);
  for (int i = 0; i < 40; ++i) {
    const int width = 1 + static_cast<int>(random.below(40));
    const int height = 1 + static_cast<int>(random.below(40));
    const int most = 1 + static_cast<int>(random.below(24));
    const Pixels file = noise(width, height, random.bits());
    Shrinking shrinking(width, height, most);
    for (int y = 0; y < height; ++y) {
      shrinking.add(&file.rgb[static_cast<std::size_t>(y * width) * 3]);
    }
    const Pixels small = shrinking.outcome();
    ASSERT_LE(std::max(small.width, small.height), std::max(1, most));
    const double across = static_cast<double>(width) / small.width;
    const double down = static_cast<double>(height) / small.height;
    for (int y = 0; y < small.height; ++y) {
      for (int x = 0; x < small.width; ++x) {
        double sum = 0;
        for (int v = 0; v < height; ++v) {
          for (int u = 0; u < width; ++u) {
            const double wide = std::min((x + 1) * across, u + 1.0) - std::max(x * across, u + 0.0);
            const double high = std::min((y + 1) * down, v + 1.0) - std::max(y * down, v + 0.0);
            if (wide <= 0 || high <= 0) continue;
            sum += wide * high * file.rgb[static_cast<std::size_t>(v * width + u) * 3];
          }
        }
        const int is = small.rgb[static_cast<std::size_t>(y * small.width + x) * 3];
        ASSERT_NEAR(is, sum / (across * down), 0.5001);
      }
    }
  }
}

}  // namespace
}  // namespace rollwright::pictures
