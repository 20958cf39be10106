#include "core/files/list_origin.h"

#include <map>
#include <string>

namespace hoopwright {
namespace {

std::string identityOf(const OutNode& item) {
    for (const std::string_view key : {"id", "name"}) {
        if (const OutNode* value = item.find(key)) return value->text;
    }
    return "";
}

class Pairing {
public:
    Pairing(const std::vector<OutNode>& was, const std::vector<OutNode>& now)
        : was_(was), now_(now), origin_(now.size(), -1), used_(was.size(), false) {}

    std::vector<int> made() {
        const std::size_t both = std::min(was_.size(), now_.size());
        // Equal items in the same place first: of two equal straps each stays itself.
        for (std::size_t i = 0; i < both; ++i) {
            if (was_[i] == now_[i]) pair(i, i);
        }
        pairByIdentity();
        pairByContent();
        for (std::size_t i = 0; i < both && was_.size() == now_.size(); ++i) pair(i, i);
        return std::move(origin_);
    }

private:
    void pair(std::size_t i, std::size_t k) {
        if (origin_[i] >= 0 || used_[k]) return;
        origin_[i] = static_cast<int>(k);
        used_[k] = true;
    }
    void pairByIdentity() {
        std::map<std::string, std::size_t> known;
        for (std::size_t k = 0; k < was_.size(); ++k) {
            if (!used_[k]) known.emplace(identityOf(was_[k]), k);
        }
        for (std::size_t i = 0; i < now_.size(); ++i) {
            const std::string identity = identityOf(now_[i]);
            const auto found = known.find(identity);
            if (!identity.empty() && found != known.end()) pair(i, found->second);
        }
    }
    void pairByContent() {
        for (std::size_t i = 0; i < now_.size(); ++i) {
            for (std::size_t k = 0; k < was_.size() && origin_[i] < 0; ++k) {
                if (!used_[k] && was_[k] == now_[i]) pair(i, k);
            }
        }
    }

    const std::vector<OutNode>& was_;
    const std::vector<OutNode>& now_;
    std::vector<int> origin_;
    std::vector<bool> used_;
};

}  // namespace

std::vector<int> listOrigin(const std::vector<OutNode>& was, const std::vector<OutNode>& now) {
    return Pairing(was, now).made();
}

}  // namespace hoopwright
