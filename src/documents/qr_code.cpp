#include "documents/qr_code.hpp"

#include <memory>

#include <qrencode.h>

#include "base/index.hpp"

namespace rollwright::documents {
namespace {

QRecLevel level_of(QrCode::Level level) {
  switch (level) {
    case QrCode::Level::kL: return QR_ECLEVEL_L;
    case QrCode::Level::kM: return QR_ECLEVEL_M;
    case QrCode::Level::kQ: return QR_ECLEVEL_Q;
    case QrCode::Level::kH: return QR_ECLEVEL_H;
  }
  return QR_ECLEVEL_H;
}

}  // namespace

std::optional<QrCode> QrCode::of(const std::string& text, Level level, int least_version) {
  const std::unique_ptr<QRcode, decltype(&QRcode_free)> made(
      QRcode_encodeString(text.c_str(), least_version, level_of(level), QR_MODE_8, 1), &QRcode_free);
  if (!made) return std::nullopt;
  std::vector<bool> dark;
  for (int i = 0; i < made->width * made->width; ++i) dark.push_back((made->data[i] & 1) != 0);
  return QrCode(made->width, std::move(dark));
}

bool QrCode::is_dark(int row, int column) const { return dark_[at(row * modules_ + column)]; }

}  // namespace rollwright::documents
