// page_shop FOLDER PORT WHAT [LANGUAGE [PHONE]]
// The whole daemon with its page, on clocks that stand still until they are moved, until it is killed or its
// standard input ends. For tests of the page, and to work on it.
//   WHAT   "lived": a new shop as in support/lived_shop.hpp
//          a time (RFC 3339): the shop of FOLDER is opened then, a new one where there is none
//          "broker," before either, as in "broker,lived": with a broker, which sensors tell
//   PHONE  the address that the channel "phone" sends to
// Prints "ready PORT CLOCK" when it listens, and "done" after each line of its standard input:
//   quiet TIME             nothing is heard until then
//   air TIME C RH          the front bay's sensor sends until then
//   publish TOPIC PAYLOAD  a retained message
//   disk full | disk free
#include <boost/asio/posix/stream_descriptor.hpp>
#include <boost/asio/read_until.hpp>
#include <boost/asio/streambuf.hpp>
#include <cstdio>
#include <deque>
#include <iostream>
#include <sstream>

#include "support/full_disk.hpp"
#include "support/lived_shop.hpp"
#include "support/mosquitto.hpp"
#include "support/publisher.hpp"

namespace net = boost::asio;
using namespace dryclock;

namespace {

class PageShop {
 public:
  PageShop(const std::filesystem::path& folder, std::string what, test::WholeShopOptions options) {
    constexpr std::string_view with_broker = "broker,";
    if (what.starts_with(with_broker)) {
      what.erase(0, with_broker.size());
      broker_.emplace();
      sender_.emplace(broker_->port());
      options.broker = broker_->port();
    }
    if (what == "lived") {
      shop_ = test::lived_shop(folder, std::move(options));
    } else {
      options.now = parse_rfc3339(what).value();
      shop_ = std::make_unique<test::WholeShop>(folder, std::move(options));
      shop_->looks_ahead();
    }
  }

  void serve() {
    std::cout << "ready " << shop_->parts().server->port() << ' ' << to_rfc3339(shop_->now()) << std::endl;
    auto& io = shop_->parts().io;
    input_.emplace(io, 0);
    read();
    while (!io.stopped()) {
      if (lines_.empty()) {
        shop_->turns();
      } else {
        std::istringstream line{lines_.front()};
        lines_.pop_front();
        obey(line);
        std::cout << "done" << std::endl;
      }
    }
  }

 private:
  void read() {
    net::async_read_until(*input_, text_, '\n', [&](boost::system::error_code error, std::size_t) {
      if (error) {
        return shop_->parts().io.stop();  // the test that started it is gone
      }
      std::istream text{&text_};
      std::getline(text, lines_.emplace_back());
      read();
    });
  }

  void obey(std::istream& line) {
    std::string what;
    std::string value;
    line >> what >> value;
    if (what == "quiet") {
      shop_->stays_until(parse_rfc3339(value).value());
    } else if (what == "air") {
      double air_c = 0.0;
      double rh_pct = 0.0;
      line >> air_c >> rh_pct;
      shop_->airs_until(parse_rfc3339(value).value(), air_c, rh_pct);
    } else if (what == "publish") {
      std::string payload;
      std::getline(line >> std::ws, payload);
      sender_->publish(value, payload, 1, true);
    } else if (what == "disk") {
      full_.reset();
      if (value == "full") {
        full_.emplace();
      }
    } else {
      throw std::runtime_error("what is " + what + "?");
    }
  }

  std::optional<test::Mosquitto> broker_;
  std::optional<test::Publisher> sender_;
  std::unique_ptr<test::WholeShop> shop_;
  std::optional<net::posix::stream_descriptor> input_;
  net::streambuf text_;
  std::deque<std::string> lines_;
  std::optional<test::FullDisk> full_;
};

int serve(const std::vector<std::string>& words) {
  if (words.size() < 3 || words.size() > 5) {
    std::cerr << "page_shop FOLDER PORT WHAT [LANGUAGE [PHONE]]\n";
    return 2;
  }
  test::WholeShopOptions options;
  options.port = static_cast<std::uint16_t>(std::stoi(words[1]));
  if (words.size() > 3) {
    options.language = words[3];
  }
  if (words.size() > 4) {
    options.phone = words[4];
  }
  log::start(log::Level::error, false);
  PageShop{words[0], words[2], std::move(options)}.serve();
  return 0;
}

}  // namespace

int main(int count, char** words) {
  try {
    return serve({words + 1, words + count});
  } catch (const std::exception& problem) {
    std::fprintf(stderr, "page_shop: %s\n", problem.what());
    return 1;
  }
}
