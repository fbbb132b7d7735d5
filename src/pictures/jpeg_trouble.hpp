#pragma once

#include <array>
#include <csetjmp>
#include <cstddef>
#include <cstdio>

#include <jpeglib.h>

namespace rollwright::pictures {

/// A code of our own beside those of jerror.h.
inline constexpr int kTooManyScans = -1;

/// What libjpeg complains of. It leaves by longjmp: whoever calls it sets `way_out` in a function
/// that owns nothing but plain values.
///
/// Invariants: `manager` comes first, so that libjpeg's pointer to it is one to this.
struct JpegTrouble {
  jpeg_error_mgr manager;
  std::jmp_buf way_out;
  int code;                                // of jerror.h, or kTooManyScans
  std::array<char, JMSG_LENGTH_MAX> said;  // in libjpeg's own words

  /// To be given to a compressor or decompressor as its `err`.
  [[nodiscard]] jpeg_error_mgr* hear();
};

}  // namespace rollwright::pictures
