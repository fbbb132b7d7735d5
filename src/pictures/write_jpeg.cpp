#include "pictures/write_jpeg.hpp"

#include <cstdlib>

#include "base/result.hpp"
#include "pictures/jpeg_trouble.hpp"

namespace rollwright::pictures {
namespace {

/// libjpeg's compressor, what it writes, and its memory.
///
/// Threads: one at a time.
class JpegWriter {
 public:
  JpegWriter() : info_() { info_.err = trouble_.hear(); }
  ~JpegWriter() {
    jpeg_destroy_compress(&info_);
    std::free(bytes_);
  }
  JpegWriter(const JpegWriter&) = delete;
  JpegWriter& operator=(const JpegWriter&) = delete;

  [[nodiscard]] bool write(const Pixels& pixels, int quality);
  [[nodiscard]] std::string written() const {
    return {reinterpret_cast<const char*>(bytes_), size_};
  }

 private:
  JpegTrouble trouble_;
  jpeg_compress_struct info_;
  unsigned char* bytes_ = nullptr;
  unsigned long size_ = 0;
};

bool JpegWriter::write(const Pixels& pixels, int quality) {
  if (setjmp(trouble_.way_out) != 0) return false;
  jpeg_create_compress(&info_);
  jpeg_mem_dest(&info_, &bytes_, &size_);
  info_.image_width = static_cast<JDIMENSION>(pixels.width);
  info_.image_height = static_cast<JDIMENSION>(pixels.height);
  info_.input_components = 3;
  info_.in_color_space = JCS_RGB;
  jpeg_set_defaults(&info_);
  jpeg_set_quality(&info_, quality, TRUE);
  info_.optimize_coding = TRUE;
  jpeg_start_compress(&info_, TRUE);
  while (info_.next_scanline < info_.image_height) {
    auto* row = const_cast<unsigned char*>(
        &pixels.rgb[std::size_t{info_.next_scanline} * info_.image_width * 3]);
    jpeg_write_scanlines(&info_, &row, 1);
  }
  jpeg_finish_compress(&info_);
  return true;
}

}  // namespace

std::string write_jpeg(const Pixels& pixels, int quality) {
  JpegWriter writer;
  const bool is_written = writer.write(pixels, quality);
  ROLLWRIGHT_PROMISE(is_written);  // pixels of our own, small enough for libjpeg
  return writer.written();
}

}  // namespace rollwright::pictures
