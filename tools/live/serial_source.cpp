#include "serial_source.hpp"

#include <libserialport.h>
#include <sys/file.h>
#include <sys/ioctl.h>

#include <array>
#include <cerrno>
#include <cstring>

#include "pulsewright/error.hpp"

namespace pulsewright::program {
namespace {

struct FreePort {
  void operator()(sp_port* port) const {
    sp_close(port);
    sp_free_port(port);
  }
};
using Port = std::unique_ptr<sp_port, FreePort>;

std::string last_fault() {
  char* text = sp_last_error_message();
  std::string fault = text == nullptr ? std::strerror(errno) : text;
  sp_free_error_message(text);
  return fault;
}

/// Two readers of one port would each get some of the bytes.
[[noreturn]] void refuse_shared(const std::string& path) {
  throw Error(
      ErrorCode::unreadable,
      path + ": another program reads this port; each of two would get half of the samples. Close the other one");
}

int descriptor_of(sp_port* port) {
  int descriptor = -1;
  return sp_get_port_handle(port, &descriptor) == SP_OK ? descriptor : -1;
}

Port open_port(const std::string& path, int baud) {
  sp_port* raw = nullptr;
  if (sp_get_port_by_name(path.c_str(), &raw) != SP_OK)
    throw Error(ErrorCode::unreadable, path + ": is no serial port: " + last_fault());
  Port port{raw};
  if (sp_open(raw, SP_MODE_READ) != SP_OK) {
    if (errno == EBUSY) refuse_shared(path);
    throw Error(ErrorCode::unreadable, path + ": cannot be opened: " + last_fault() +
                                           (errno == EACCES ? "; may this user read serial ports?" : ""));
  }
  const int descriptor = descriptor_of(raw);
  if (::flock(descriptor, LOCK_EX | LOCK_NB) != 0 && errno == EWOULDBLOCK) refuse_shared(path);
  ::ioctl(descriptor, TIOCEXCL);
  if (sp_set_baudrate(raw, baud) != SP_OK)
    throw Error(ErrorCode::usage, path + ": does not do " + std::to_string(baud) + " baud: " + last_fault());
  sp_set_bits(raw, 8);
  sp_set_parity(raw, SP_PARITY_NONE);
  sp_set_stopbits(raw, 1);
  sp_set_flowcontrol(raw, SP_FLOWCONTROL_NONE);
  return port;
}

class SerialSource final : public LiveSource {
 public:
  SerialSource(std::string path, int baud) : path_(std::move(path)), baud_(baud), port_(open_port(path_, baud)) {}

  [[nodiscard]] int descriptor() const override { return port_ ? descriptor_of(port_.get()) : -1; }

  SourceState read(std::string& bytes, std::vector<float>&) override {
    std::array<char, 4096> buffer{};
    const auto count = sp_nonblocking_read(port_.get(), buffer.data(), buffer.size());
    if (count > 0) {
      bytes.append(buffer.data(), static_cast<std::size_t>(count));
      return SourceState::data;
    }
    if (count == 0 && sp_input_waiting(port_.get()) >= 0) return SourceState::nothing;
    trouble = last_fault();
    port_.reset();
    return SourceState::away;
  }

  bool reopen() override {
    try {
      port_ = open_port(path_, baud_);
      return true;
    } catch (const Error& error) {
      trouble = error.what();
      return false;
    }
  }

  [[nodiscard]] bool in_real_time() const override { return true; }

 private:
  std::string path_;
  int baud_;
  Port port_;
};

}  // namespace

std::unique_ptr<LiveSource> open_serial(const std::string& path, int baud) {
  return std::make_unique<SerialSource>(path, baud);
}

}  // namespace pulsewright::program
