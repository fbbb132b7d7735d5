#include "pictures/read_jpeg.hpp"

#include <algorithm>
#include <string>

#include <fmt/format.h>

#include "pictures/camera_turn.hpp"
#include "pictures/jpeg_trouble.hpp"
#include "pictures/no_copy.hpp"
#include "pictures/small_copy.hpp"

#include <jerror.h>

namespace rollwright::pictures {
namespace {

/// libjpeg's decompressor with its memory. Functions give false when it gave up; then `trouble`
/// says why, and nothing but the end is left.
///
/// Threads: one at a time.
class JpegReader {
 public:
  JpegReader() : info_(), scans_() { info_.err = trouble_.hear(); }
  ~JpegReader() { jpeg_destroy_decompress(&info_); }
  JpegReader(const JpegReader&) = delete;
  JpegReader& operator=(const JpegReader&) = delete;

  [[nodiscard]] bool read_head(const unsigned char* bytes, unsigned long size);
  /// Decodes at the smallest of 1/1, 1/2, 1/4 and 1/8 that leaves `least` pixels on the longest
  /// side.
  [[nodiscard]] bool start(int least);
  /// The next row: 3 * width() values.
  [[nodiscard]] bool read_row(unsigned char* into);
  [[nodiscard]] bool finish();

  [[nodiscard]] const jpeg_decompress_struct& info() const { return info_; }
  [[nodiscard]] const JpegTrouble& trouble() const { return trouble_; }
  [[nodiscard]] int turn() const;

 private:
  static void count_scans(j_common_ptr info);

  JpegTrouble trouble_;
  jpeg_decompress_struct info_;
  jpeg_progress_mgr scans_;
};

bool JpegReader::read_head(const unsigned char* bytes, unsigned long size) {
  if (setjmp(trouble_.way_out) != 0) return false;
  jpeg_create_decompress(&info_);
  info_.mem->max_memory_to_use = static_cast<long>(kMostMemory);
  scans_.progress_monitor = count_scans;
  info_.progress = &scans_;
  jpeg_mem_src(&info_, bytes, size);
  jpeg_save_markers(&info_, JPEG_APP0 + 1, 0xFFFF);
  jpeg_read_header(&info_, TRUE);
  return true;
}

void JpegReader::count_scans(j_common_ptr info) {
  const auto* reader = reinterpret_cast<j_decompress_ptr>(info);
  if (reader->input_scan_number <= kMostScans) return;
  info->err->msg_code = kTooManyScans;
  info->err->error_exit(info);
}

bool JpegReader::start(int least) {
  if (setjmp(trouble_.way_out) != 0) return false;
  info_.out_color_space = JCS_RGB;
  const unsigned longest = std::max(info_.image_width, info_.image_height);
  info_.scale_num = 1;
  info_.scale_denom = 1;
  while (info_.scale_denom < 8 &&
         longest / (info_.scale_denom * 2) >= static_cast<unsigned>(least)) {
    info_.scale_denom *= 2;
  }
  jpeg_start_decompress(&info_);
  return true;
}

bool JpegReader::read_row(unsigned char* into) {
  if (setjmp(trouble_.way_out) != 0) return false;
  return jpeg_read_scanlines(&info_, &into, 1) == 1;
}

bool JpegReader::finish() {
  if (setjmp(trouble_.way_out) != 0) return false;
  jpeg_finish_decompress(&info_);
  return true;
}

int JpegReader::turn() const {
  for (const jpeg_marker_struct* marker = info_.marker_list; marker != nullptr;
       marker = marker->next) {
    const auto* block = reinterpret_cast<const char*>(marker->data);
    const int turn = camera_turn({block, marker->data_length});
    if (turn != 1) return turn;
  }
  return 1;
}

std::unexpected<Error> given_up(const JpegTrouble& trouble) {
  switch (trouble.code) {
    case JERR_OUT_OF_MEMORY:
    case JERR_NO_BACKING_STORE:
      return no_copy(fmt::format("it would take more than {} MiB of memory", kMostMemory >> 20));
    case kTooManyScans:
      return no_copy(fmt::format("it is written in more than {} scans", kMostScans));
    case JERR_INPUT_EMPTY:
    case JERR_INPUT_EOF:
    case JWRN_JPEG_EOF:
    case JWRN_HIT_MARKER: return no_copy("the file ends, or breaks off, before the picture does");
    default: return no_copy(fmt::format("it cannot be read ({})", trouble.said.data()));
  }
}

/// Colours that a camera writes; those for print need a profile to be shown.
bool is_for_screens(J_COLOR_SPACE colours) {
  return colours == JCS_GRAYSCALE || colours == JCS_YCbCr || colours == JCS_RGB;
}

}  // namespace

Result<Pixels> read_jpeg(std::string_view bytes, int most) {
  JpegReader reader;
  if (!reader.read_head(reinterpret_cast<const unsigned char*>(bytes.data()), bytes.size())) {
    return given_up(reader.trouble());
  }
  const jpeg_decompress_struct& info = reader.info();
  if (Result<void> ok = may_be_taken_apart(info.image_width, info.image_height); !ok) {
    return std::unexpected(ok.error());
  }
  if (!is_for_screens(info.jpeg_color_space)) return no_copy("its colours are those for print");
  const int turn = reader.turn();  // libjpeg forgets it at the end
  if (!reader.start(most)) return given_up(reader.trouble());
  const auto width = static_cast<int>(info.output_width);
  const auto height = static_cast<int>(info.output_height);
  Shrinking shrinking(width, height, most);
  std::vector<std::uint8_t> row(static_cast<std::size_t>(width) * 3);
  for (int y = 0; y < height; ++y) {
    if (!reader.read_row(row.data())) return given_up(reader.trouble());
    shrinking.add(row.data());
  }
  if (!reader.finish()) return given_up(reader.trouble());
  return turned(shrinking.outcome(), turn);
}

}  // namespace rollwright::pictures
