// The manual page and the shells' completions, written from the commands themselves, so that they cannot drift:
//   rushlight manual man | bash | zsh

#include "command/commands.h"
#include "command/outputs.h"

#include <cstdio>
#include <memory>
#include <string>
#include <vector>

namespace rushlight::command {

namespace {

/// Those that people are told of.
std::vector<const CLI::App*> shown(const CLI::App& app) {
    return app.get_subcommands([](const CLI::App* c) { return !c->get_group().empty(); });
}
std::vector<const CLI::Option*> options_of(const CLI::App& app) {
    std::vector<const CLI::Option*> options;
    for (const CLI::Option* o : app.get_options())
        if (!o->get_positional() && !o->get_group().empty()) options.push_back(o);
    return options;
}
std::vector<std::string> names_of(const CLI::Option& option) {
    std::vector<std::string> names;
    for (const std::string& n : option.get_snames()) names.push_back("-" + n);
    for (const std::string& n : option.get_lnames()) names.push_back("--" + n);
    return names;
}
bool takes_value(const CLI::Option& o) {
    return o.get_expected_max() > 0 && o.get_type_size_max() > 0;
}
/// Words after which a file name is completed.
bool is_path(const CLI::Option& o) {
    for (const std::string& n : o.get_lnames())
        if (n == "output" || n == "measured-table") return true;
    return false;
}

/// For a line of roff: backslashes and hyphens as they are, nothing taken for a request.
std::string roff(const std::string& text) {
    std::string out;
    bool start = true;
    for (const char c : text) {
        if (start && (c == '.' || c == '\'')) out += "\\&";
        start = c == '\n';
        if (c == '\\')
            out += "\\e";
        else if (c == '-')
            out += "\\-";
        else
            out += c;
    }
    return out;
}

std::string roff_options(const CLI::App& app) {
    std::string out;
    for (const CLI::Option* o : options_of(app)) {
        out += ".TP\n\\fB";
        const std::vector<std::string> names = names_of(*o);
        for (std::size_t i = 0; i < names.size(); ++i) out += (i > 0 ? "\\fR, \\fB" : "") + roff(names[i]);
        out += "\\fR";
        if (takes_value(*o)) out += " \\fI" + roff(o->get_type_name()) + "\\fR";
        out += "\n" + roff(o->get_description()) + "\n";
    }
    return out;
}

/// Lines as they stand.
std::string roff_as_it_stands(const std::string& text) {
    return ".nf\n" + roff(text) + "\n.fi\n";
}

std::string manual_page(const CLI::App& app) {
    std::string out = ".TH RUSHLIGHT 1 \"\" \"rushlight " RUSHLIGHT_VERSION
                      "\" \"User commands\"\n.SH NAME\n"
                      "rushlight \\- plan the light of a scene in a real room\n.SH SYNOPSIS\n";
    for (const CLI::App* c : shown(app)) {
        out += ".B rushlight " + roff(c->get_name()) + "\n[\\fIoptions\\fR]";
        for (const CLI::Option* o : c->get_options())
            if (o->get_positional()) out += " \\fI" + roff(o->get_name(true)) + "\\fR";
        out += "\n.br\n";
    }
    out += ".SH DESCRIPTION\n" + roff_as_it_stands(app.get_description()) + ".SH COMMANDS\n";
    for (const CLI::App* c : shown(app)) {
        out += ".SS rushlight " + roff(c->get_name()) + "\n" + roff(c->get_description()) + "\n" + roff_options(*c);
        if (!c->get_footer().empty()) out += ".PP\n" + roff_as_it_stands(c->get_footer());
    }
    return out +
           ".SH EXIT STATUS\n0: done. 1: the machine could not. 2: wrong input, said in one line. 130: ended early.\n"
           ".SH CAUTION\nEstimate for planning light. Not an electrical, structural or rigging assessment.\n";
}

std::string joined_names(const CLI::App& app) {
    std::string words;
    for (const CLI::Option* o : options_of(app))
        for (const std::string& n : names_of(*o)) words += (words.empty() ? "" : " ") + n;
    return words;
}

std::string bash_completion(const CLI::App& app) {
    std::string commands, paths, cases;
    for (const CLI::App* c : shown(app)) {
        commands += (commands.empty() ? "" : " ") + c->get_name();
        cases += "        " + c->get_name() + ") words=\"" + joined_names(*c) + "\" ;;\n";
        for (const CLI::Option* o : options_of(*c))
            if (is_path(*o))
                for (const std::string& n : names_of(*o))
                    if ((" |" + paths + "|").find("|" + n + "|") == std::string::npos)
                        paths += (paths.empty() ? "" : "|") + n;
    }
    return "# bash completion for rushlight; written by: rushlight manual bash\n"
           "_rushlight() {\n"
           "    local now=\"${COMP_WORDS[COMP_CWORD]}\" before=\"${COMP_WORDS[COMP_CWORD-1]}\" words=\"\"\n"
           "    COMPREPLY=()\n"
           "    if [ \"$COMP_CWORD\" -eq 1 ]; then\n"
           "        COMPREPLY=($(compgen -W \"" +
           commands + " " + joined_names(app) +
           "\" -- \"$now\"))\n"
           "        return\n"
           "    fi\n" +
           (paths.empty() ? ""
                          : "    case \"$before\" in\n        " + paths +
                                ") compopt -o filenames 2>/dev/null; COMPREPLY=($(compgen -f -- \"$now\")); return ;;\n"
                                "    esac\n") +
           "    case \"${COMP_WORDS[1]}\" in\n" + cases +
           "    esac\n"
           "    if [[ \"$now\" == -* ]]; then\n"
           "        COMPREPLY=($(compgen -W \"$words\" -- \"$now\"))\n"
           "    else\n"
           "        compopt -o filenames 2>/dev/null\n"
           "        COMPREPLY=($(compgen -f -X '!*.toml' -- \"$now\") $(compgen -d -- \"$now\"))\n"
           "    fi\n"
           "}\n"
           "complete -F _rushlight rushlight\n";
}

/// In single quotes, in brackets or behind a colon.
std::string zsh_words(const std::string& text) {
    std::string out;
    for (const char c : text) {
        if (c == '\'')
            out += "'\\''";
        else if (c == '[' || c == ']' || c == ':' || c == '\\')
            out += std::string("\\") + c;
        else
            out += c == '\n' ? ' ' : c;
    }
    return out;
}

std::string zsh_completion(const CLI::App& app) {
    std::string commands, cases;
    for (const CLI::App* c : shown(app)) {
        commands += "    '" + c->get_name() + ":" + zsh_words(c->get_description()) + "'\n";
        cases += "    " + c->get_name() + ") _arguments -s";
        for (const CLI::Option* o : options_of(*c))
            for (const std::string& n : names_of(*o))
                cases += " \\\n        '" + n + "[" + zsh_words(o->get_description()) + "]" +
                         (!takes_value(*o) ? ""
                          : is_path(*o)    ? ":file:_files"
                                           : ":value: ") +
                         "'";
        cases += " \\\n        '*:set-up file:_files -g \"*.toml\"' ;;\n";
    }
    return "#compdef rushlight\n# zsh completion for rushlight; written by: rushlight manual zsh\n"
           "local -a commands\ncommands=(\n" +
           commands +
           ")\nif (( CURRENT == 2 )); then\n    _describe command commands\n    return\nfi\n"
           "local command=$words[2]\nshift words\n(( CURRENT-- ))\ncase $command in\n" +
           cases + "esac\n";
}

}  // namespace

void add_manual(CLI::App& app) {
    auto what = std::make_shared<std::string>();
    CLI::App* c =
        app.add_subcommand("manual", "writes the manual page (man) or the completions of a shell (bash, zsh)");
    c->group("");  // for packages, not for people
    c->add_option("WHAT", *what, "man, bash or zsh")->required()->check(CLI::IsMember({"man", "bash", "zsh"}));
    c->callback([&app, what] {
        const std::string text = *what == "man"    ? manual_page(app)
                                 : *what == "bash" ? bash_completion(app)
                                                   : zsh_completion(app);
        hand_over(text);
    });
}

}  // namespace rushlight::command
