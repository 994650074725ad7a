#include "picture/picture.hpp"

#include <fmt/format.h>
#include <png.h>

#include <algorithm>
#include <csetjmp>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <vector>

#include <jpeglib.h>
// After it: the codes of its messages.
#include <jerror.h>

namespace lampside::picture {
namespace {

constexpr int kQuality = 84;
/// A progressive picture is held whole while it is decoded, and may ask for it a thousand times.
constexpr long kMostMemory = 320L << 20;
constexpr int kMostScans = 60;

/// Rows of red, green, blue.
struct Pixels {
  int width = 0, height = 0;
  std::vector<unsigned char> rgb;
  unsigned char* at(int x, int y) { return rgb.data() + 3 * (std::size_t(y) * std::size_t(width) + std::size_t(x)); }
  [[nodiscard]] const unsigned char* at(int x, int y) const {
    return rgb.data() + 3 * (std::size_t(y) * std::size_t(width) + std::size_t(x));
  }
};

Problem broken() {
  return {"PICTURE_BROKEN", "this picture cannot be read to its end",
          "take it again, or send it from the phone once more"};
}

// ---- JPEG -----------------------------------------------------------------------------------------------------------

/// libjpeg's way out of an error is a jump. Nothing with a destructor may be made between setjmp and the jump.
struct Trouble {
  jpeg_error_mgr manager;
  std::jmp_buf out;
  bool cut_off;
};
[[noreturn]] void jump_out(j_common_ptr codec) { std::longjmp(reinterpret_cast<Trouble*>(codec->err)->out, 1); }
/// A picture cut off while it was sent would decode into grey. Other warnings (bytes between the parts) are common and
/// harmless.
void listen(j_common_ptr codec, int level) {
  const int said = codec->err->msg_code;
  if (level < 0 && (said == JWRN_JPEG_EOF || said == JWRN_HIT_MARKER))
    reinterpret_cast<Trouble*>(codec->err)->cut_off = true;
}
void count_scans(j_common_ptr codec) {
  if (reinterpret_cast<j_decompress_ptr>(codec)->input_scan_number > kMostScans) jump_out(codec);
}
jpeg_error_mgr* quiet(Trouble& trouble) {
  auto* manager = jpeg_std_error(&trouble.manager);
  manager->error_exit = jump_out;
  manager->emit_message = listen;
  return manager;
}

class Decoder {
 public:
  explicit Decoder(std::string_view bytes) : bytes_{bytes} {
    codec_.err = quiet(trouble_);
    jpeg_create_decompress(&codec_);
  }
  Decoder(const Decoder&) = delete;
  Decoder& operator=(const Decoder&) = delete;
  ~Decoder() { jpeg_destroy_decompress(&codec_); }

  /// The head, up to the first pixel.
  bool head() {
    if (setjmp(trouble_.out) != 0) return false;
    jpeg_mem_src(&codec_, reinterpret_cast<const unsigned char*>(bytes_.data()),
                 static_cast<unsigned long>(bytes_.size()));
    jpeg_save_markers(&codec_, JPEG_APP0 + 1, 0xffff);
    jpeg_read_header(&codec_, TRUE);
    return true;
  }
  [[nodiscard]] int width() const { return static_cast<int>(codec_.image_width); }
  [[nodiscard]] int height() const { return static_cast<int>(codec_.image_height); }

  /// Decodes in the smallest of the codec's sizes (halves, quarters, eighths) that is still `longest` or more.
  bool pixels(int longest, Pixels& out) {
    progress_.progress_monitor = count_scans;
    if (setjmp(trouble_.out) != 0) return false;
    codec_.progress = &progress_;
    codec_.mem->max_memory_to_use = kMostMemory;
    codec_.out_color_space = JCS_RGB;
    codec_.scale_num = 1;
    codec_.scale_denom = 1;
    while (codec_.scale_denom < 8 && std::max(width(), height()) / static_cast<int>(2 * codec_.scale_denom) >= longest)
      codec_.scale_denom *= 2;
    jpeg_start_decompress(&codec_);
    out.width = static_cast<int>(codec_.output_width);
    out.height = static_cast<int>(codec_.output_height);
    out.rgb.resize(3 * std::size_t(out.width) * std::size_t(out.height));
    while (codec_.output_scanline < codec_.output_height) {
      unsigned char* row = out.at(0, static_cast<int>(codec_.output_scanline));
      jpeg_read_scanlines(&codec_, &row, 1);
    }
    jpeg_finish_decompress(&codec_);
    return !trouble_.cut_off;
  }

  /// EXIF's orientation, 1 to 8 (JEITA CP-3451, tag 0x0112); 1 where none is said.
  [[nodiscard]] int orientation() const {
    for (auto* m = codec_.marker_list; m != nullptr; m = m->next) {
      const std::string_view data{reinterpret_cast<const char*>(m->data), m->data_length};
      if (m->marker == JPEG_APP0 + 1 && data.starts_with(std::string_view{"Exif\0\0", 6}))
        return orientation_in(data.substr(6));
    }
    return 1;
  }

 private:
  static int orientation_in(std::string_view tiff) {
    const bool small_end_first = tiff.starts_with("II");
    const auto number = [&](std::size_t at, std::size_t bytes) -> std::size_t {
      if (at > tiff.size() || tiff.size() - at < bytes) return 0;
      std::size_t n = 0;
      for (std::size_t i = 0; i < bytes; ++i)
        n = n << 8U | static_cast<unsigned char>(tiff[at + (small_end_first ? bytes - 1 - i : i)]);
      return n;
    };
    const auto directory = number(4, 4);
    const auto tags = number(directory, 2);
    for (std::size_t i = 0; i < tags && i < 200; ++i) {
      const auto tag = directory + 2 + 12 * i;
      if (number(tag, 2) != 0x0112) continue;
      const auto said = number(tag + 8, 2);
      return said >= 1 && said <= 8 ? static_cast<int>(said) : 1;
    }
    return 1;
  }

  std::string_view bytes_;
  jpeg_decompress_struct codec_{};
  jpeg_progress_mgr progress_{};
  Trouble trouble_{};
};

/// Only a picture's own segments: what a fresh encoder writes, and no marker beside it.
std::string encode(const Pixels& pixels) {
  struct Encoder {
    jpeg_compress_struct codec{};
    Trouble trouble{};
    unsigned char* buffer = nullptr;
    unsigned long size = 0;
    Encoder() {
      codec.err = quiet(trouble);
      jpeg_create_compress(&codec);
    }
    Encoder(const Encoder&) = delete;
    Encoder& operator=(const Encoder&) = delete;
    ~Encoder() {
      jpeg_destroy_compress(&codec);
      std::free(buffer);  // libjpeg took it with malloc
    }
    bool run(const Pixels& p) {
      if (setjmp(trouble.out) != 0) return false;
      jpeg_mem_dest(&codec, &buffer, &size);
      codec.image_width = static_cast<JDIMENSION>(p.width);
      codec.image_height = static_cast<JDIMENSION>(p.height);
      codec.input_components = 3;
      codec.in_color_space = JCS_RGB;
      jpeg_set_defaults(&codec);
      jpeg_set_quality(&codec, kQuality, TRUE);
      jpeg_start_compress(&codec, TRUE);
      while (codec.next_scanline < codec.image_height) {
        auto* row = const_cast<unsigned char*>(p.at(0, static_cast<int>(codec.next_scanline)));
        jpeg_write_scanlines(&codec, &row, 1);
      }
      jpeg_finish_compress(&codec);
      return true;
    }
  } encoder;
  if (!encoder.run(pixels)) return {};
  return {reinterpret_cast<const char*>(encoder.buffer), encoder.size};
}

// ---- turning and shrinking ------------------------------------------------------------------------------------------

/// Upright, by EXIF's orientation: where the pixel at (x, y) comes from.
Pixels upright(Pixels in, int orientation) {
  if (orientation <= 1) return in;
  const bool on_its_side = orientation >= 5;
  Pixels out{on_its_side ? in.height : in.width, on_its_side ? in.width : in.height, {}};
  out.rgb.resize(in.rgb.size());
  const int right = in.width - 1, bottom = in.height - 1;
  for (int y = 0; y < out.height; ++y)
    for (int x = 0; x < out.width; ++x) {
      int from_x = on_its_side ? y : x, from_y = on_its_side ? x : y;
      if (orientation == 2 || orientation == 3 || orientation == 7 || orientation == 8) from_x = right - from_x;
      if (orientation == 3 || orientation == 4 || orientation == 6 || orientation == 7) from_y = bottom - from_y;
      std::memcpy(out.at(x, y), in.at(from_x, from_y), 3);
    }
  return out;
}

/// Each pixel the mean of those it stands for: plain, and no edge rings.
Pixels shrink(Pixels in, int longest) {
  const int side = std::max(in.width, in.height);
  if (side <= longest) return in;
  const auto scaled = [&](int n) {
    return std::max(1, static_cast<int>((std::int64_t{n} * longest + side / 2) / side));
  };
  Pixels out{scaled(in.width), scaled(in.height), {}};
  out.rgb.resize(3 * std::size_t(out.width) * std::size_t(out.height));
  const auto edge = [](int i, int of, int to) { return static_cast<int>(std::int64_t{i} * to / of); };
  for (int y = 0; y < out.height; ++y) {
    const int top = edge(y, out.height, in.height), bottom = std::max(top + 1, edge(y + 1, out.height, in.height));
    for (int x = 0; x < out.width; ++x) {
      const int left = edge(x, out.width, in.width), right = std::max(left + 1, edge(x + 1, out.width, in.width));
      int sum[3] = {0, 0, 0};
      for (int v = top; v < bottom; ++v)
        for (int u = left; u < right; ++u)
          for (int c = 0; c < 3; ++c) sum[c] += in.at(u, v)[c];
      const int n = (bottom - top) * (right - left);
      for (int c = 0; c < 3; ++c) out.at(x, y)[c] = static_cast<unsigned char>((sum[c] + n / 2) / n);
    }
  }
  return out;
}

// ---- PNG ------------------------------------------------------------------------------------------------------------

bool png_pixels(std::string_view bytes, Pixels& out) {
  png_image image{};
  image.version = PNG_IMAGE_VERSION;
  if (png_image_begin_read_from_memory(&image, bytes.data(), bytes.size()) == 0) return false;
  image.format = PNG_FORMAT_RGB;
  out.width = static_cast<int>(image.width);
  out.height = static_cast<int>(image.height);
  out.rgb.resize(PNG_IMAGE_SIZE(image));
  const png_color white{255, 255, 255};  // behind what is transparent
  const bool well = png_image_finish_read(&image, &white, out.rgb.data(), 0, nullptr) != 0;
  png_image_free(&image);
  return well;
}

std::size_t big_endian(std::string_view bytes, std::size_t at) {
  std::size_t n = 0;
  for (std::size_t i = 0; i < 4; ++i) n = n << 8U | static_cast<unsigned char>(bytes[at + i]);
  return n;
}

/// ISO/IEC 23008-12 (HEIF), by its major brand (from memory).
bool heic(std::string_view bytes) {
  if (bytes.size() < 12 || bytes.substr(4, 4) != "ftyp") return false;
  const auto brand = bytes.substr(8, 4);
  return brand.starts_with("he") || brand == "mif1" || brand == "msf1";
}

/// What else people send, by its first bytes.
std::string_view looks_like(std::string_view bytes) {
  using namespace std::string_view_literals;
  static constexpr std::pair<std::string_view, std::string_view> kKnown[] = {{"\x7f"
                                                                              "ELF"sv,
                                                                              "a program"},
                                                                             {"MZ"sv, "a program"},
                                                                             {"#!"sv, "a program"},
                                                                             {"%PDF"sv, "a PDF"},
                                                                             {"GIF8"sv, "a GIF"},
                                                                             {"PK\x03\x04"sv, "a ZIP archive"},
                                                                             {"<"sv, "a page or a drawing"},
                                                                             {"RIFF"sv, "a WebP or a film"}};
  if (heic(bytes)) return "a HEIC picture";
  if (bytes.size() > 12 && bytes.substr(4, 4) == "ftyp") return "a film";
  for (const auto& [first, what] : kKnown)
    if (bytes.starts_with(first)) return what;
  return bytes.empty() ? "empty" : "no picture that Lampside knows";
}

Result<Pixels> decoded(std::string_view bytes, int longest) {
  const auto seen = look(bytes);
  if (!seen) return tl::unexpected(seen.error());
  Pixels pixels;
  int orientation = 1;
  if (seen->kind == Seen::Kind::png) {
    if (!png_pixels(bytes, pixels)) return tl::unexpected(broken());
  } else {
    Decoder decoder{bytes};
    if (!decoder.head()) return tl::unexpected(broken());
    orientation = decoder.orientation();
    if (!decoder.pixels(longest, pixels)) return tl::unexpected(broken());
  }
  return upright(shrink(std::move(pixels), longest), orientation);
}

}  // namespace

Result<Seen> look(std::string_view bytes) {
  Seen seen{};
  if (bytes.starts_with("\xff\xd8\xff")) {
    Decoder decoder{bytes};
    if (!decoder.head()) return tl::unexpected(broken());
    seen = {Seen::Kind::jpeg, decoder.width(), decoder.height()};
  } else if (bytes.starts_with("\x89PNG\r\n\x1a\n")) {
    if (bytes.size() < 24 || bytes.substr(12, 4) != "IHDR") return tl::unexpected(broken());
    const auto width = big_endian(bytes, 16), height = big_endian(bytes, 20);
    if (width == 0 || height == 0 || width > 1'000'000 || height > 1'000'000) return tl::unexpected(broken());
    seen = {Seen::Kind::png, static_cast<int>(width), static_cast<int>(height)};
  } else if (heic(bytes)) {
    return problem("PICTURE_HEIC", "this is a HEIC picture, as some telephones keep them; Lampside reads JPEG and PNG",
                   "choose it from the telephone's photographs, not from its files: most then send it as JPEG. Or set "
                   "the camera to JPEG (on some called \"most compatible\", under formats)");
  } else {
    return problem(
        "PICTURE_KIND", fmt::format("this file is {}, whatever its name says", looks_like(bytes)),
        "choose a photograph: JPEG or PNG. A phone sends JPEG when its camera is set to \"most compatible\"");
  }
  const double megapixels = 1e-6 * seen.width * seen.height;
  if (megapixels > kMostMegapixels)
    return problem("PICTURE_LARGE",
                   fmt::format("this picture is {} x {} pixels, {:.0f} megapixels; the most is {:.0f}", seen.width,
                               seen.height, megapixels, kMostMegapixels),
                   "set the camera to a smaller size, or send a smaller copy");
  return seen;
}

Result<std::string> clean(std::string_view bytes) { return shrunk(bytes, kKept); }

Result<std::string> shrunk(std::string_view bytes, int longest) {
  const auto pixels = decoded(bytes, longest);
  if (!pixels) return tl::unexpected(pixels.error());
  auto out = encode(*pixels);
  if (out.empty()) return tl::unexpected(broken());
  return out;
}

Result<draw::Picture> for_paper(std::string_view bytes, int longest) {
  const auto pixels = decoded(bytes, longest);
  if (!pixels) return tl::unexpected(pixels.error());
  draw::Picture out{pixels->width, pixels->height, {}, encode(*pixels)};
  out.pixels.reserve(pixels->rgb.size() / 3);
  for (std::size_t i = 0; i < pixels->rgb.size(); i += 3)
    out.pixels.push_back(std::uint32_t{pixels->rgb[i]} << 16U | std::uint32_t{pixels->rgb[i + 1]} << 8U |
                         pixels->rgb[i + 2]);
  return out;
}

}  // namespace lampside::picture
