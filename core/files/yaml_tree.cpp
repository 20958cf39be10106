#include "core/files/yaml_tree.h"

#include <yaml-cpp/eventhandler.h>
#include <yaml-cpp/exceptions.h>
#include <yaml-cpp/parser.h>

#include <algorithm>
#include <array>
#include <exception>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "core/files/yaml_encoding.h"
#include "core/files/yaml_span.h"

namespace hoopwright {
namespace {

struct Words {
    const char* of_library;
    const char* what;
    const char* remedy;
};

Problem plainSyntax(const YAML::Exception& error, FileMark at) {
    // The library speaks of tokens and flows; a fabricator has brackets, dashes and colons.
    static const Words known[] = {
        {YAML::ErrorMsg::END_OF_MAP_FLOW, "a { opened before here is not closed, or a comma is missing",
         "write , between the entries and } after the last"},
        {YAML::ErrorMsg::END_OF_SEQ_FLOW, "a [ opened before here is not closed, or a comma is missing",
         "write , between the items and ] after the last"},
        {YAML::ErrorMsg::END_OF_MAP, "this line does not fit the mapping it stands in",
         "line keys of one mapping up under each other, each with a colon; a text that ends in a quote needs "
         "no other "
         "quote"},
        {YAML::ErrorMsg::END_OF_SEQ, "this line does not fit the list it stands in",
         "start each item with a dash and line the dashes up"},
        {YAML::ErrorMsg::MAP_VALUE, "a colon stands where no key can be",
         "line keys up under each other, or put a text with a colon in quotes"},
        {YAML::ErrorMsg::MAP_KEY, "a key stands where none can be", "line keys up under each other"},
        {YAML::ErrorMsg::BLOCK_ENTRY, "a dash stands where no list item can be",
         "line the dashes of a list up, with spaces and not tabs"},
        {YAML::ErrorMsg::FLOW_END, "a closing bracket has no opening one", "take it out, or open it first"},
        {YAML::ErrorMsg::TAB_IN_INDENTATION, "a tab indents this line", "indent with spaces"},
        {YAML::ErrorMsg::EOF_IN_SCALAR, "the file ends inside a quoted text", "close the quote"},
        {YAML::ErrorMsg::DOC_IN_SCALAR, "a line of dashes or dots stands inside a quoted text",
         "close the quote"},
        {YAML::ErrorMsg::CHAR_IN_SCALAR, "a character that cannot start or be in a bare text",
         "put it in quotes"},
        {YAML::ErrorMsg::UNKNOWN_TOKEN, "a text starts with a character that has another meaning here",
         "put the text in quotes"},
        {YAML::ErrorMsg::INVALID_ESCAPE, "an unknown backslash sequence in a quoted text",
         "write \\\\ for a backslash, or use single quotes"},
        {YAML::ErrorMsg::INVALID_HEX, "a backslash sequence with wrong digits", "use single quotes"},
        {YAML::ErrorMsg::INVALID_UNICODE, "a backslash sequence for no character there is",
         "write the character itself"},
        {YAML::ErrorMsg::BAD_FILE, "lists and mappings are nested too deep", "40 levels are read"},
        {YAML::ErrorMsg::CHAR_IN_BLOCK, "only a digit, + or - may follow | or >",
         "start the text on the next line"},
    };
    for (const Words& words : known) {
        if (error.msg.starts_with(words.of_library)) {
            return {std::move(at), words.what, words.remedy};
        }
    }
    return {std::move(at), "this is not YAML: " + error.msg, ""};
}

/// Builds the tree from the parser's events, and keeps what a job file may not hold.
class TreeBuilder : public YAML::EventHandler {
public:
    TreeBuilder(std::string_view text, const std::string& file) : columns_(text), file_(file) {}

    void OnDocumentStart(const YAML::Mark& mark) override {
        if (++documents_ > 1) refuse(mark, "a second document starts here", "keep one document in a file");
    }
    void OnDocumentEnd() override {}
    void OnNull(const YAML::Mark& mark, YAML::anchor_t) override {
        place(node(mark, YamlNode::Kind::nothing));
    }
    void OnAlias(const YAML::Mark& mark, YAML::anchor_t) override {
        refuse(mark, "aliases (*name) are not read", "write the value out");
        place(node(mark, YamlNode::Kind::nothing));
    }
    void OnScalar(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                  const std::string& value) override {
        refuseMarks(mark, tag, anchor);
        YamlNode made = node(mark, YamlNode::Kind::scalar);
        made.text = value;
        made.quoted = tag == "!";
        place(std::move(made));
    }
    void OnSequenceStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                         YAML::EmitterStyle::value style) override {
        open(mark, tag, anchor, YamlNode::Kind::list, style);
    }
    void OnSequenceEnd() override { close(); }
    void OnMapStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                    YAML::EmitterStyle::value style) override {
        open(mark, tag, anchor, YamlNode::Kind::map, style);
    }
    void OnMapEnd() override { close(); }

    FileMark at(const YAML::Mark& mark) const {
        if (mark.is_null()) return {file_, 0, 0};
        return {file_, mark.line + 1, columns_.column(offset(mark), mark.column)};
    }
    std::optional<YamlNode> root;
    Problems problems;

private:
    struct Open {
        YamlNode node;
        std::optional<YamlKey> key;  ///< of a map: read, its value still to come
    };
    static std::size_t offset(const YAML::Mark& mark) {
        return static_cast<std::size_t>(std::max(mark.pos, 0));
    }
    YamlNode node(const YAML::Mark& mark, YamlNode::Kind kind) const {
        YamlNode made;
        made.kind = kind;
        made.line = mark.line + 1;
        made.column = columns_.column(offset(mark), mark.column);
        made.begin = made.end = offset(mark);
        return made;
    }
    void refuse(const YAML::Mark& mark, const std::string& what, const std::string& remedy) {
        if (problems.size() < 200) problems.push_back({at(mark), what, remedy});
    }
    void refuseMarks(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor) {
        if (anchor != 0) refuse(mark, "anchors (&name) are not read", "write the value out where it is used");
        if (!tag.empty() && tag != "?" && tag != "!")
            refuse(mark, "tags (!name) are not read", "take it out");
    }
    void open(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor, YamlNode::Kind kind,
              YAML::EmitterStyle::value style) {
        refuseMarks(mark, tag, anchor);
        if (++depth_ == kYamlGreatestDepth + 1) {
            refuse(mark, "lists and mappings are nested too deep",
                   std::to_string(kYamlGreatestDepth) + " levels are read");
        }
        if (depth_ > kYamlGreatestDepth) return;
        YamlNode made = node(mark, kind);
        made.flow = style == YAML::EmitterStyle::Flow;
        open_.push_back({std::move(made), {}});
    }
    void close() {
        if (depth_-- > kYamlGreatestDepth) return;
        YamlNode done = std::move(open_.back().node);
        open_.pop_back();
        place(std::move(done));
    }
    void place(YamlNode done) {
        if (depth_ > kYamlGreatestDepth || documents_ > 1) return;
        if (open_.empty()) {
            root = std::move(done);
            return;
        }
        Open& parent = open_.back();
        if (parent.node.kind == YamlNode::Kind::list) {
            parent.node.items.push_back(std::move(done));
        } else if (!parent.key) {
            if (done.kind != YamlNode::Kind::scalar) {
                problems.push_back(
                    {{file_, done.line, done.column}, "a key must be a word", "write KEY: value"});
            }
            parent.key = YamlKey{std::move(done.text), done.line, done.column, done.begin};
        } else {
            parent.node.keys.push_back(*std::move(parent.key));
            parent.node.items.push_back(std::move(done));
            parent.key.reset();
        }
    }

    CharacterColumns columns_;
    std::string file_;
    std::vector<Open> open_;
    int depth_ = 0;
    int documents_ = 0;
};

void parse(std::string_view text, TreeBuilder& builder) {
    try {
        std::istringstream in{std::string(text)};
        in.imbue(std::locale::classic());
        YAML::Parser parser(in);
        for (int documents = 0; documents < 2 && parser.HandleNextDocument(builder);) ++documents;
    } catch (const YAML::Exception& error) {
        builder.problems.push_back(plainSyntax(error, builder.at(error.mark)));
    } catch (const std::exception& error) {
        builder.problems.push_back(
            {builder.at(YAML::Mark::null_mark()), std::string("cannot be read: ") + error.what(), ""});
    }
}

}  // namespace

YamlTree readYamlTree(std::string_view text, const std::string& file) {
    if (std::optional<Problem> wrong = encodingProblem(text, file)) return {std::nullopt, {*wrong}};
    const std::string_view body = withoutByteOrderMark(text);
    TreeBuilder builder(body, file);
    parse(body, builder);
    if (builder.problems.empty() && !builder.root) {
        return {std::nullopt,
                {{{file, 0, 0}, "the file is empty", "it should start with `hoopwright: KIND`"}}};
    }
    if (builder.problems.empty()) {
        if (const YamlNode* unclosed = findSpans(*builder.root, body)) {
            builder.problems.push_back({{file, unclosed->line, unclosed->column},
                                        "a quote opens here and is never closed",
                                        "close it"});
        }
    }
    if (!builder.problems.empty()) return {std::nullopt, std::move(builder.problems)};
    return {std::move(builder.root), {}};
}

WholeText readWholeFile(const std::string& file) {
    const auto no = [&](const std::string& what, const std::string& remedy) {
        return WholeText{std::nullopt, {{{file, 0, 0}, what, remedy}}};
    };
    std::error_code failed;
    const std::filesystem::file_status status = std::filesystem::status(file, failed);
    if (!std::filesystem::exists(status)) return no("there is no such file", "check the name and the folder");
    if (std::filesystem::is_directory(status)) return no("this is a folder, not a file", "name a file in it");
    if (!std::filesystem::is_regular_file(status))
        return no("this is not an ordinary file", "name a YAML file");
    std::ifstream in(file, std::ios::binary);
    if (!in) return no("the file cannot be opened for reading", "check who may read it");
    std::string text;
    std::array<char, 64 * 1024> part;
    while (in && text.size() <= kYamlGreatestSize) {
        in.read(part.data(), part.size());
        text.append(part.data(), static_cast<std::size_t>(in.gcount()));
    }
    if (in.bad()) return no("the file could not be read to its end", "check the disk");
    // With the place where it goes past that.
    if (text.size() > kYamlGreatestSize) return {std::nullopt, {*encodingProblem(text, file)}};
    return {std::move(text), {}};
}

}  // namespace hoopwright
