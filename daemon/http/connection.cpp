#include "http/connection.hpp"

#include <array>
#include <boost/asio.hpp>
#include <boost/beast/core.hpp>
#include <boost/beast/core/buffer_ref.hpp>
#include <boost/beast/http.hpp>
#include <ctime>

#include "http/guard.hpp"
#include "http/message.hpp"

namespace dryclock::http {
namespace {

namespace net = boost::asio;
namespace beast = boost::beast;
namespace bhttp = boost::beast::http;
using boost::system::error_code;
using net::ip::tcp;

constexpr std::string_view server_name = "dryclock";
constexpr std::chrono::seconds linger{2};

using BeastRequest = bhttp::request<bhttp::string_body>;
using BeastResponse = bhttp::response<bhttp::string_body>;

// IPv4 inside IPv6 as IPv4, so that one peer has one name.
net::ip::address plain(const net::ip::address& address) {
  if (address.is_v6() && address.to_v6().is_v4_mapped()) {
    return net::ip::make_address_v4(net::ip::v4_mapped, address.to_v6());
  }
  return address;
}

// "Sun, 06 Nov 1994 08:49:37 GMT" (RFC 9110, 5.6.7).
std::string http_date() {
  const std::time_t now = std::time(nullptr);
  std::tm utc{};
  gmtime_r(&now, &utc);
  std::array<char, 32> text{};
  return {text.data(), std::strftime(text.data(), text.size(), "%a, %d %b %Y %H:%M:%S GMT", &utc)};
}

// It keeps itself alive by the handler or the answer that is outstanding; the server only looks on.
class BeastConnection final : public Connection, public std::enable_shared_from_this<BeastConnection> {
 public:
  BeastConnection(tcp::socket socket, std::shared_ptr<Shared> shared)
      : stream_(std::move(socket)), shared_(std::move(shared)), options_(shared_->options) {
    error_code ignored;
    const auto remote = plain(stream_.socket().remote_endpoint(ignored).address());
    peer_ = remote.to_string();
    from_this_machine_ = remote.is_loopback();
    local_address_ = plain(stream_.socket().local_endpoint(ignored).address()).to_string();
    stream_.socket().set_option(tcp::no_delay{true}, ignored);
  }

  BeastConnection(const BeastConnection&) = delete;
  BeastConnection& operator=(const BeastConnection&) = delete;
  ~BeastConnection() override {
    if (live_) {
      --shared_->live_readers;
    }
  }

  void start() override { read_head(options_.read_timeout); }
  void refuse() override {
    finish_after_answer();
    send(problem_response(503, {"too many connections; try again", {}}));
  }
  void close() override {
    closed_ = true;
    error_code ignored;
    stream_.socket().close(ignored);
    stream_.cancel();
  }

  [[nodiscard]] bool closed() const override { return closed_; }
  [[nodiscard]] bool live() const override { return live_ && !closed_; }
  [[nodiscard]] std::optional<std::chrono::steady_clock::time_point> idle_since() const override {
    return idle_since_;
  }

  void push(const Chunk& chunk) override {
    if (writing_) {
      next_ = chunk;
      return;
    }
    write_chunk(chunk);
  }
  void push_heartbeat() override {
    static const Chunk heartbeat = std::make_shared<const std::string>(":\n\n");
    if (!writing_) {
      write_chunk(heartbeat);
    }
  }

 private:
  void read_head(Millis timeout) {
    parser_.reset();
    idle_since_ = std::chrono::steady_clock::now();
    // Bytes of the next request may be here already; they must fit whatever the limit.
    buffer_.max_size(std::max(options_.header_limit, buffer_.size()));
    stream_.expires_after(timeout);
    net::async_read_until(
        stream_, beast::ref(buffer_), "\r\n\r\n",
        [self = shared_from_this()](error_code error, std::size_t bytes) { self->on_head(error, bytes); });
  }

  void on_head(error_code error, std::size_t bytes) {
    idle_since_.reset();
    if (error == net::error::not_found) {
      fail(431, {"the header is too large", {}});
    } else if (error) {
      close();
    } else if (const auto fault = fault_of_head({static_cast<const char*>(buffer_.data().data()), bytes})) {
      fail(400, *fault);
    } else {
      buffer_.max_size(options_.header_limit + options_.body_limit + buffer_.size());
      parser_.emplace();
      parser_->header_limit(static_cast<std::uint32_t>(bytes));
      parser_->body_limit(options_.body_limit);
      stream_.expires_after(options_.read_timeout);
      bhttp::async_read_header(
          stream_, buffer_, *parser_,
          [self = shared_from_this()](error_code bad, std::size_t) { self->on_parsed_head(bad); });
    }
  }

  void on_parsed_head(error_code error) {
    if (error) {
      fail_parse(error);
      return;
    }
    const auto& head = parser_->get();
    const auto coding = head[bhttp::field::transfer_encoding];
    if (!coding.empty() && !beast::iequals(coding, "chunked")) {
      fail(501, {"no transfer coding but 'chunked' is known", "Transfer-Encoding"});
    } else if (head.method() == bhttp::verb::unknown) {
      fail(501, {"this method is not known", {}});
    } else if (beast::iequals(head[bhttp::field::expect], "100-continue")) {
      static constexpr std::string_view go_on = "HTTP/1.1 100 Continue\r\n\r\n";
      net::async_write(stream_, net::buffer(go_on), [self = shared_from_this()](error_code bad, std::size_t) {
        bad ? self->close() : self->read_body();
      });
    } else {
      read_body();
    }
  }

  void read_body() {
    bhttp::async_read(stream_, buffer_, *parser_, [self = shared_from_this()](error_code error, std::size_t) {
      error ? self->fail_parse(error) : self->handle(self->parser_->release());
    });
  }

  void handle(BeastRequest&& message) {
    Request request;
    request.method = message.method_string();
    request.target = message.target();
    for (const auto& field : message) {
      request.headers.emplace_back(lower_case(field.name_string()), field.value());
    }
    request.body = std::move(message.body());
    request.peer = peer_;
    request.local_address = local_address_;
    request.from_this_machine = from_this_machine_;
    head_only_ = message.method() == bhttp::verb::head;
    keep_alive_ = message.keep_alive();
    version_ = message.version();
    shared_->router.handle(
        request, std::chrono::steady_clock::now(),
        [self = shared_from_this()](Response response) { self->answer(std::move(response)); });
  }

  // Perhaps later: the asker may have gone while its event was written to disk.
  void answer(Response&& response) {
    if (closed_) {
      return;
    }
    if (response.live && shared_->live_readers >= options_.connection_cap / 2) {
      response = problem_response(503, {"too many live readers; try again", {}});
    }
    send(std::move(response));
  }

  void fail_parse(error_code error) {
    if (error == bhttp::error::body_limit) {
      fail(413, {"the body is too large", {}});
    } else if (error.category() == bhttp::make_error_code(bhttp::error::bad_method).category() &&
               error != bhttp::error::end_of_stream && error != bhttp::error::partial_message) {
      fail(400, {"this is not HTTP: " + error.message(), {}});
    } else {
      close();
    }
  }

  // The rest of what comes cannot be told apart any more: answer, and end.
  void fail(int status, const Problem& problem) {
    finish_after_answer();
    send(problem_response(status, problem));
  }
  void finish_after_answer() {
    keep_alive_ = false;
    head_only_ = false;
    version_ = 11;
  }

  void send(Response&& response) {
    const bool live = response.live && !head_only_;
    keep_alive_ = keep_alive_ && !response.live;
    message_ = BeastResponse{static_cast<bhttp::status>(response.status), version_};
    message_.reason(reason_phrase(response.status));
    message_.set(bhttp::field::date, http_date());
    message_.set(bhttp::field::server, server_name);
    message_.set(bhttp::field::content_type, response.content_type);
    for (const auto& [name, value] : response.headers) {
      message_.insert(name, value);
    }
    message_.keep_alive(keep_alive_);
    message_.body() = std::move(response.body);
    const bool never_a_body = response.live || response.status == 304;
    if (!never_a_body) {
      message_.prepare_payload();
    }
    serializer_.emplace(message_);
    stream_.expires_after(options_.write_timeout);
    auto done = [self = shared_from_this(), live](error_code error, std::size_t) {
      self->on_sent(error, live);
    };
    if (head_only_ || never_a_body) {
      bhttp::async_write_header(stream_, *serializer_, std::move(done));
    } else {
      bhttp::async_write(stream_, *serializer_, std::move(done));
    }
  }

  void on_sent(error_code error, bool live) {
    if (error) {
      close();
    } else if (live) {
      become_live();
    } else if (keep_alive_) {
      read_head(options_.idle_timeout);
    } else {
      // Read what still comes, or the answer may be lost to a reset.
      stream_.socket().shutdown(tcp::socket::shutdown_send, error);
      stream_.expires_after(linger);
      drain();
    }
  }

  void drain() {
    stream_.async_read_some(net::buffer(scrap_), [self = shared_from_this()](error_code error, std::size_t) {
      error ? self->close() : self->drain();
    });
  }

  void become_live() {
    live_ = true;
    ++shared_->live_readers;
    // Reading tells when the reader goes; it has nothing more to say.
    stream_.expires_never();
    drain();
    push(board_chunk(shared_->router));
  }

  void write_chunk(const Chunk& chunk) {
    writing_ = chunk;
    stream_.expires_after(options_.write_timeout);
    net::async_write(stream_, net::buffer(*writing_),
                     [self = shared_from_this()](error_code error, std::size_t) {
                       self->writing_.reset();
                       if (error) {
                         self->close();
                       } else if (self->next_) {
                         self->write_chunk(std::exchange(self->next_, nullptr));
                       }
                     });
  }

  beast::tcp_stream stream_;
  std::shared_ptr<Shared> shared_;
  const Options& options_;
  std::string peer_, local_address_;
  bool from_this_machine_ = false;

  beast::flat_buffer buffer_;
  std::optional<bhttp::request_parser<bhttp::string_body>> parser_;
  BeastResponse message_;
  std::optional<bhttp::response_serializer<bhttp::string_body>> serializer_;
  bool head_only_ = false, keep_alive_ = false, closed_ = false;
  unsigned version_ = 11;
  std::optional<std::chrono::steady_clock::time_point> idle_since_;

  bool live_ = false;
  Chunk writing_, next_;
  std::array<char, 1024> scrap_{};
};

}  // namespace

Chunk board_chunk(const Router& router) {
  return std::make_shared<const std::string>("event: board\ndata: " + router.board_json() + "\n\n");
}

std::shared_ptr<Connection> make_connection(net::io_context& io, int descriptor, bool v6,
                                            std::shared_ptr<Shared> shared) {
  tcp::socket socket{io, v6 ? tcp::v6() : tcp::v4(), descriptor};
  return std::make_shared<BeastConnection>(std::move(socket), std::move(shared));
}

}  // namespace dryclock::http
