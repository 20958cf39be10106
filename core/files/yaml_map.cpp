#include "core/files/yaml_map.h"

#include <algorithm>
#include <cmath>

#include "core/base/text.h"

namespace hoopwright {
namespace {

constexpr std::size_t kGreatestProblems = 200;

}  // namespace

YamlFile::YamlFile(std::string text, std::string name) : text_(std::move(text)), name_(std::move(name)) {
    YamlTree tree = readYamlTree(text_, name_);
    tree_ = std::move(tree.root);
    problems_ = std::move(tree.problems);
}

void YamlFile::add(Problem problem) {
    if (problems_.size() < kGreatestProblems) {
        problems_.push_back(std::move(problem));
    } else {
        ++left_out_;
    }
}

std::string YamlFile::meant(const std::string& word, const std::vector<std::string>& known) const {
    constexpr std::size_t kMostCompared = 1000, kMostListed = 30;
    if (problems_.size() >= kGreatestProblems || known.size() > kMostCompared) return "";
    const std::string near = didYouMean(word, known);
    if (!near.empty()) return "did you mean '" + near + "'?";
    return known.size() > kMostListed ? "" : "known here: " + listed(known);
}

Problems YamlFile::problems() const {
    Problems sorted = problems_;
    std::stable_sort(sorted.begin(), sorted.end(), [](const Problem& a, const Problem& b) {
        return std::pair(a.at.line, a.at.column) < std::pair(b.at.line, b.at.column);
    });
    if (left_out_ > 0) {
        Problem rest;
        rest.at.file = name_;
        rest.what = "and " + std::to_string(left_out_) + " more problems";
        sorted.push_back(std::move(rest));
    }
    return sorted;
}

YamlMap YamlFile::top(std::string_view kind, int latest_version) {
    if (!tree_) return YamlMap(*this, nullptr, "");
    const YamlValue whole(*this, &*tree_, "the file");
    if (!whole.isMap()) {
        whole.problem("is not a mapping of keys",
                      "it should start with `hoopwright: " + std::string(kind) + "`");
        return YamlMap(*this, nullptr, "");
    }
    const auto valueOf = [&](std::string_view key) -> const YamlNode* {
        for (std::size_t i = 0; i < tree_->keys.size(); ++i) {
            if (tree_->keys[i].text == key) return &tree_->items[i];
        }
        add({whole.at(), "the key '" + std::string(key) + "' is missing", "add it at the top"});
        return nullptr;
    };
    const YamlValue kind_here(*this, valueOf("hoopwright"), "hoopwright");
    const std::string word = kind_here.text();
    if (word != kind) {
        if (kind_here) {
            kind_here.problem("this file says it is a '" + word + "' file",
                              "a '" + std::string(kind) + "' file is wanted");
        }
        return YamlMap(*this, nullptr, "");
    }
    const YamlValue version(*this, valueOf("version"), "version");
    if (version) version_ = version.whole(1, 1'000'000);
    if (version_ > latest_version) {
        const std::string read = latest_version == 1 ? "1" : "1 to " + std::to_string(latest_version);
        version.problem("this file is of a later version than this program reads",
                        "use a newer program; this one reads " + read);
        return YamlMap(*this, nullptr, "");
    }
    const YamlValue units(*this, valueOf("units"), "units");
    if (units) unit_ = units.oneOf<LengthUnit>({{"mm", LengthUnit::mm}, {"in", LengthUnit::in}});
    return YamlMap(*this, &*tree_, "", {"hoopwright", "version", "units"});
}

YamlMap::YamlMap(YamlFile& file, const YamlNode* node, std::string label, std::set<std::string> asked)
    : file_(&file), node_(node), label_(std::move(label)), asked_(std::move(asked)) {
    if (!node_) return;
    std::set<std::string> seen;
    for (const YamlKey& key : node_->keys) {
        if (seen.insert(key.text).second) continue;
        file_->add({{file_->name(), key.line, key.column},
                    "the key '" + key.text + "' is given twice",
                    "keep one of them"});
    }
}

YamlMap::~YamlMap() {
    if (!node_) return;
    const std::vector<std::string> known(asked_.begin(), asked_.end());
    for (const YamlKey& key : node_->keys) {
        if (asked_.contains(key.text)) continue;
        const std::string remedy = file_->meant(key.text, known);
        file_->add({{file_->name(), key.line, key.column},
                    (label_.empty() ? "" : label_ + ": ") + "unknown key '" + key.text + "'",
                    remedy});
    }
}

YamlValue YamlMap::find(std::string_view key) {
    asked_.emplace(key);
    return YamlValue(*file_, node_, "").peek(key);
}

YamlValue YamlMap::need(std::string_view key) {
    YamlValue value = find(key);
    if (node_ && !value) problem("the key '" + std::string(key) + "' is missing", "add it");
    return value;
}

bool YamlMap::has(std::string_view key) {
    return static_cast<bool>(find(key));
}

std::string YamlMap::oneKeyOf(const std::vector<std::string>& keys) {
    std::vector<std::string> given;
    for (const std::string& key : keys) {
        if (has(key)) given.push_back(key);
    }
    if (given.size() == 1) return given.front();
    if (!node_) return "";
    if (given.empty()) {
        problem("one of these keys is missing: " + listed(keys), "add one of them");
    } else {
        problem("these keys exclude each other: " + listed(given), "keep one of them");
    }
    return "";
}

std::vector<std::pair<std::string, YamlValue>> YamlMap::entries() {
    std::vector<std::pair<std::string, YamlValue>> out;
    if (!node_) return out;
    for (std::size_t i = 0; i < node_->keys.size(); ++i) {
        asked_.insert(node_->keys[i].text);
        out.emplace_back(node_->keys[i].text, YamlValue(*file_, &node_->items[i], node_->keys[i].text));
    }
    return out;
}

FileMark YamlMap::at() const {
    return node_ ? FileMark{file_->name(), node_->line, node_->column} : FileMark{file_->name(), 0, 0};
}

void YamlMap::problem(const std::string& what, const std::string& remedy) const {
    if (node_) file_->add({at(), (label_.empty() ? "" : label_ + ": ") + what, remedy});
}

}  // namespace hoopwright
