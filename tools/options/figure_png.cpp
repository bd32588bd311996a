#include "figure_png.hpp"

#include <cairo.h>
#include <librsvg/rsvg.h>

#include <cmath>
#include <memory>

#include "pulsewright/error.hpp"

namespace pulsewright::program {
namespace {

constexpr double points_per_px = 2;

struct Free {
  void operator()(RsvgHandle* handle) const { g_object_unref(handle); }
  void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
  void operator()(cairo_t* context) const { cairo_destroy(context); }
};

[[noreturn]] void fail(const std::string& why) {
  throw Error(ErrorCode::contract, "a figure cannot be drawn as PNG: " + why);
}

void check(gboolean done, GError* error) {
  if (done != FALSE) return;
  const std::string why = error != nullptr ? error->message : "librsvg does not say why";
  if (error != nullptr) g_error_free(error);
  fail(why);
}

cairo_status_t append(void* bytes, const unsigned char* data, unsigned int length) {
  static_cast<std::string*>(bytes)->append(reinterpret_cast<const char*>(data), length);
  return CAIRO_STATUS_SUCCESS;
}

}  // namespace

std::string png_of_svg(std::string_view svg) {
  GError* error = nullptr;
  const std::unique_ptr<RsvgHandle, Free> handle(
      rsvg_handle_new_from_data(reinterpret_cast<const guint8*>(svg.data()), svg.size(), &error));
  check(handle != nullptr ? TRUE : FALSE, error);
  double width = 0, height = 0;
  if (rsvg_handle_get_intrinsic_size_in_pixels(handle.get(), &width, &height) == FALSE) fail("it has no size");

  const auto points = [](double px) { return static_cast<int>(std::ceil(px * points_per_px)); };
  const std::unique_ptr<cairo_surface_t, Free> surface(
      cairo_image_surface_create(CAIRO_FORMAT_ARGB32, points(width), points(height)));
  const std::unique_ptr<cairo_t, Free> context(cairo_create(surface.get()));
  cairo_scale(context.get(), points_per_px, points_per_px);
  const RsvgRectangle whole{0, 0, width, height};
  const gboolean drawn = rsvg_handle_render_document(handle.get(), context.get(), &whole, &error);
  check(drawn, error);

  std::string bytes;
  const cairo_status_t status = cairo_surface_write_to_png_stream(surface.get(), append, &bytes);
  if (status != CAIRO_STATUS_SUCCESS) fail(cairo_status_to_string(status));
  return bytes;
}

}  // namespace pulsewright::program
