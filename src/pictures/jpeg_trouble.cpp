#include "pictures/jpeg_trouble.hpp"

#include <jerror.h>

namespace rollwright::pictures {
namespace {

[[noreturn]] void leave(j_common_ptr info) {
  auto* trouble = reinterpret_cast<JpegTrouble*>(info->err);
  trouble->code = info->err->msg_code;
  info->err->format_message(info, trouble->said.data());
  std::longjmp(trouble->way_out, 1);
}

/// What is no damage to the picture: bytes between its segments, an odd version, transform or scan
/// head, as some cameras write them.
bool is_harmless(int code) {
  return code == JWRN_EXTRANEOUS_DATA || code == JWRN_JFIF_MAJOR || code == JWRN_ADOBE_XFORM ||
         code == JWRN_NOT_SEQUENTIAL || code == JWRN_TOO_MUCH_DATA;
}

/// Negative levels are warnings: libjpeg would go on and paint grey what it cannot read.
void on_message(j_common_ptr info, int level) {
  if (level < 0 && !is_harmless(info->err->msg_code)) leave(info);
}

void print_nothing(j_common_ptr) {}

}  // namespace

jpeg_error_mgr* JpegTrouble::hear() {
  jpeg_std_error(&manager);
  manager.error_exit = leave;
  manager.emit_message = on_message;
  manager.output_message = print_nothing;
  code = 0;
  said[0] = '\0';
  return &manager;
}

}  // namespace rollwright::pictures
