-- fitter.lua: imprint lines, filler slots and recto openers in a Markdown book.
-- A pandoc filter for pandoc 2.17 and later, for LaTeX and Typst; in formats without paper the
-- slots and page breaks vanish and the imprint key stays, as text.

local stringify = pandoc.utils.stringify
local latex, typst = FORMAT:match '^latex', FORMAT:match '^typst'
local raw_format = latex and 'latex' or typst and 'typst'
local CLASSES_WITH_FRONT_MATTER = {
  book = true, memoir = true, scrbook = true, octavo = true, ['tufte-book'] = true, ctexbook = true,
}

local function raw(text) return pandoc.RawBlock(raw_format, text) end

-- A metadata value as a list: empty for none, itself if it is one.
local function list_of(value)
  if value == nil then return pandoc.List {} end
  return pandoc.utils.type(value) == 'List' and value or pandoc.List {value}
end

local function read_file(path)
  local file = io.open(path, 'rb')
  if not file then return nil end
  local text = file:read 'a'
  file:close()
  return text
end

-- ---- The inserts file ---------------------------------------------------------------------------
-- The tool writes it beside the source, named after the PDF: book.pdf, book-inserts.tex or .jsonl.

local function inserts_paths(meta, ending)
  if meta['fitter-inserts'] then return {stringify(meta['fitter-inserts'])} end
  local output, first = PANDOC_STATE.output_file, PANDOC_STATE.input_files[1]
  local stem = (output or first or ''):match '([^/\\]*)$':gsub('%.%w+$', '')
  local folder = (first or ''):match '^(.*[/\\])' or ''
  return {stem .. '-inserts' .. ending, folder .. stem .. '-inserts' .. ending}
end

local function first_readable(paths)
  for _, path in ipairs(paths) do
    local text = read_file(path)
    if text then return text, path end
  end
end

-- A line of the .jsonl file is a list of texts; in them only \ and " are written with a backslash.
local function line_of_texts(line)
  local texts = {}
  local plain = line:gsub('\\\\', '\1'):gsub('\\"', '\2')
  for text in plain:gmatch '"([^"]*)"' do
    texts[#texts + 1] = text:gsub('\1', '\\'):gsub('\2', '"')
  end
  return texts
end

local function read_lines(text)
  local lines = {}
  for line in (text or ''):gmatch '[^\n]+' do
    local texts = line_of_texts(line)
    if #texts > 0 then lines[#lines + 1] = texts end
  end
  return lines
end

-- Of the .tex file, what is wanted outside TeX too: the settings, and for a book without paper the
-- imprint lines as pandoc reads TeX.
local function lines_from_tex(text)
  local lines = {}
  text = ((text or '') .. '\n\\fitterBody{'):match '^(.-)\n\\fitterBody{' -- no filler's own words
  for name, value in text:gmatch '\\fitterSetting{([^{}]+)}{([^{}]+)}' do
    lines[#lines + 1] = {'setting', name, value}
  end
  for command, body in text:gmatch '\\fitter(%u%l+)(%b{})' do
    if command == 'Key' or command == 'History' then
      for part in (body:sub(2, -2) .. '\\\\'):gmatch '(.-)\\\\' do
        local shown = stringify(pandoc.Pandoc(pandoc.read(part, 'latex').blocks))
        lines[#lines + 1] = {command:lower(), shown}
      end
    end
  end
  return lines
end

local function inserts(meta)
  local text = first_readable(inserts_paths(meta, '.jsonl'))
  if text or typst then return read_lines(text) end
  return lines_from_tex(first_readable(inserts_paths(meta, '.tex')))
end

-- ---- Fillers ------------------------------------------------------------------------------------
-- A filler's headings carry no number and stay out of the contents; its own metadata block is
-- passed over, and so are its anchors, which the book may have too.

local filler_parts = {
  Header = function(header)
    header.identifier = ''
    header.classes = {'unnumbered', 'unlisted'}
    return header
  end,
  Div = function(div) div.identifier = '' return div end,
  Span = function(span) span.identifier = '' return span end,
  Link = function(link) if link.target:match '^#' then return link.content end end,
}

-- Colours of code would want definitions that a LaTeX book of one's own has not.
local function without_classes(code) code.classes = {} return code end
local plain_code = {Code = without_classes, CodeBlock = without_classes}

local function filler_body(path)
  local text = read_file(path)
  if not text then error('the filler ' .. path .. ' is not there') end
  local reader = path:lower():match '%.tex$' and 'latex' or 'markdown'
  local doc = pandoc.read(text, reader)
  if doc.meta.bibliography or doc.meta.references then doc = pandoc.utils.citeproc(doc) end
  return pandoc.mediabag.fill(doc):walk(filler_parts).blocks
end

-- ---- Typst --------------------------------------------------------------------------------------

local function quoted(text)
  return '"' .. text:gsub('[\\"]', '\\%0'):gsub('\n', '\\n') .. '"'
end

local function array(items)
  return '(' .. table.concat(items, ', ') .. (#items > 0 and ',)' or ')')
end

local function typst_lines(lines)
  local out = {}
  for _, line in ipairs(lines) do
    local texts = {}
    for _, text in ipairs(line) do texts[#texts + 1] = quoted(text) end
    out[#out + 1] = array(texts)
  end
  return '#let fitter-lines = ' .. array(out)
end

-- The fillers' text goes through the same writer as the book's.
local function typst_bodies(lines)
  local blocks = {}
  blocks[1] = raw '#let fitter-bodies = (:)'
  for _, line in ipairs(lines) do
    if line[1] == 'candidate' then
      blocks[#blocks + 1] = raw('#fitter-bodies.insert(' .. quoted(line[2]) .. ', () => [')
      for _, block in ipairs(filler_body(line[3])) do blocks[#blocks + 1] = block end
      blocks[#blocks + 1] = raw '])'
    end
  end
  return blocks
end

local function has_option(meta, option)
  for _, given in ipairs(list_of(meta.classoption)) do
    for word in stringify(given):gmatch '[^,%s]+' do if word == option then return true end end
  end
  return false
end

local function beside_the_filter(name)
  local folder = (PANDOC_SCRIPT_FILE or ''):match '^(.*[/\\])' or ''
  return read_file(folder .. name) or
    error(name .. ' does not lie beside fitter.lua; keep them together')
end

-- ---- Headings -----------------------------------------------------------------------------------

local headings = 0

-- pandoc does not know yet that a heading of the front matter is a chapter's, nor does LaTeX give
-- \chapter* a running head.
local function unnumbered_chapter(header)
  local function around(before, after)
    local inlines = pandoc.List {pandoc.RawInline('latex', before)}
    inlines:extend(header.content)
    inlines:insert(pandoc.RawInline('latex', after))
    return inlines
  end
  local inlines = around('\\chapter*{', '}\\label{' .. header.identifier .. '}')
  if not header.classes:includes 'unlisted' then
    inlines:extend(around('\\addcontentsline{toc}{chapter}{', '}'))
  end
  inlines:extend(around('\\markboth{\\MakeUppercase{', '}}'))
  inlines:extend(around('{\\MakeUppercase{', '}}'))
  return pandoc.Para(inlines)
end

-- Every heading leaves its number in the output, so that a page can be led back to its source;
-- before a Typst chapter stands the break that LaTeX's \chapter makes by itself.
local function heading(in_front)
  return function(header)
    headings = headings + 1
    if in_front then header.classes:insert 'unnumbered' end
    local words = stringify(header.content):gsub('%s+', ' ')
    if latex then
      local front = in_front and header.level == 1
      return {
        raw('% fitter: heading ' .. headings .. ' ' .. words),
        front and unnumbered_chapter(header) or header,
      }
    end
    local note = raw('#fitter-note("heading", "' .. headings .. '", ' .. quoted(words) .. ', "' ..
      header.level .. '", "' .. (in_front and 'front' or 'main') .. '")')
    if header.level > 1 then return {note, header} end
    return {raw '#fitter-opener()', note, header}
  end
end

-- Page breaks must lie open in Typst: a Div around one is taken away, its content stays.
local function lies_open(blocks)
  for _, block in ipairs(blocks) do
    if block.t == 'RawBlock' and block.text:match '^#fitter%-%l+' and
       not block.text:match '^#fitter%-note' then return true end
  end
  return false
end

-- ---- Paragraphs ---------------------------------------------------------------------------------
-- In a trial, for `fitter tighten`, each paragraph of the running text tells Typst its number, its
-- first words, by which the tool finds it in the source, and how many signs it has. What stands in a
-- note, a table or a figure does not run with the text.

local WORDS_KNOWN = 80
local paragraphs = 0

local function runs_typst(inlines)
  local found = false
  inlines:walk {RawInline = function() found = true end}
  return found
end

local function recorded(paragraph)
  local words = stringify(paragraph.content):gsub('%s+', ' ')
  local signs = utf8.len(words) or #words
  if signs == 0 or runs_typst(paragraph.content) then return nil, false end
  paragraphs = paragraphs + 1
  local beginning = words:sub(1, (utf8.offset(words, WORDS_KNOWN + 1) or 0) - 1)
  local call = '#fitter-paragraph("%d", %s, %d)[#[];'
  paragraph.content:insert(1, pandoc.RawInline('typst', call:format(paragraphs, quoted(beginning), signs)))
  paragraph.content:insert(pandoc.RawInline('typst', '];'))
  return paragraph, false
end

local function left_alone(element) return element, false end

local record_text = {
  traverse = 'topdown', Para = recorded, Plain = recorded, Table = left_alone, Figure = left_alone,
}

-- ---- Divs ---------------------------------------------------------------------------------------

local PLACES = {front = true, back = true}
local slots = {}

local function filler_slot(div)
  local place = div.attributes.place or ''
  if not PLACES[place] then
    io.stderr:write('[WARNING] fitter.lua: a .filler-slot needs place=front or place=back, not "',
      place, '". It is left out.\n')
    return {}
  end
  slots[place] = true
  return raw(latex and '\\fillerslot{' .. place .. '}' or '#fitter-slot("' .. place .. '")')
end

local PAPER = {
  ['imprint-key'] = {
    latex = '{\\parindent0pt\\imprintkey\\par}',
    typst = '#imprint-key()#parbreak()',
  },
  ['imprint-isbn'] = {
    latex = '{\\parindent0pt\\imprintisbn\\par}',
    typst = '#imprint-isbn()#parbreak()',
  },
  ['imprint-history'] = {
    latex = '{\\parindent0pt\\imprinthistory\\par}',
    typst = '#imprint-history()#parbreak()',
  },
  ['page-break'] = {latex = '\\clearpage', typst = '#fitter-page-break()'},
  ['recto'] = {latex = '\\cleardoublepage', typst = '#fitter-recto-break()'},
  ['contents'] = {
    latex = '\\setcounter{tocdepth}{0}\\tableofcontents',
    typst = '#fitter-opener()\n#fitter-note("contents")\n#outline(depth: 1)'},
}
-- Pages without running head and folio: what opens them and what closes them.
local PAGES = {
  ['imprint-page'] = {
    latex = {'\\begin{fitterimprint}', '\\end{fitterimprint}'},
    typst = {'#imprint-page[', ']'},
  },
  ['dedication'] = {
    latex = {
      '\\cleardoublepage\\begingroup\\thispagestyle{empty}\\parindent0pt\\centering\\itshape' ..
        '\\null\\vspace{\\stretch{1}}',
      '\\par\\vspace{\\stretch{2}}\\endgroup\\clearpage',
    },
    typst = {'#fitter-recto-break()\n#fitter-dedication[', ']'},
  },
}

local function page(div, form)
  local blocks = pandoc.List {raw(form[1])}
  blocks:extend(div.content)
  if div.classes:includes 'imprint-page' and #div.content == 0 then
    if latex then return raw '\\imprintpage' end
    blocks:insert(raw '#imprint-lines()')
  end
  blocks:insert(raw(form[2]))
  return blocks
end

local has_contents = false

local function paper_div(div)
  has_contents = has_contents or div.classes:includes 'contents'
  for class, form in pairs(PAPER) do
    if div.classes:includes(class) then return raw(form[raw_format]) end
  end
  for class, form in pairs(PAGES) do
    if div.classes:includes(class) then return page(div, form[raw_format]) end
  end
  if div.classes:includes 'filler-slot' then return filler_slot(div) end
  if typst and lies_open(div.content) then return div.content end
end

-- Without paper only the imprint lines mean something; a printed book's ISBN is not this one's.
local function paperless_div(lines)
  local function shown(word)
    local blocks = pandoc.List {}
    for _, line in ipairs(lines) do
      if line[1] == word then blocks[#blocks + 1] = pandoc.Para {pandoc.Str(line[2])} end
    end
    return blocks
  end
  return function(div)
    if div.classes:includes 'imprint-key' then return shown 'key' end
    if div.classes:includes 'imprint-history' then return shown 'history' end
    if div.classes:includes 'imprint-page' and #div.content == 0 then
      return shown 'history' .. shown 'key'
    end
    for class in pairs(PAGES) do if div.classes:includes(class) then return div.content end end
    for class in pairs(PAPER) do if div.classes:includes(class) then return {} end end
    for _, class in ipairs {'filler-slot', 'main-matter'} do
      if div.classes:includes(class) then return {} end
    end
  end
end

-- ---- The whole book -----------------------------------------------------------------------------

-- Front matter is what stands before the Div .main-matter, or without one before the first numbered
-- chapter. It goes where pandoc's templates put `include-before`: behind the title page, with roman
-- folios.
local function main_matter_at(blocks)
  for i, block in ipairs(blocks) do
    if block.t == 'Div' and block.classes:includes 'main-matter' then return i, i + 1 end
  end
  for i, block in ipairs(blocks) do
    local chapter = block.t == 'Header' and block.level == 1
    if chapter and not block.classes:includes 'unnumbered' then return i, i end
  end
  return 1, 1
end

local function front_and_main(blocks)
  local past_front, main = main_matter_at(blocks)
  return pandoc.List(table.move(blocks, 1, past_front - 1, 1, {})),
    pandoc.List(table.move(blocks, main, #blocks, 1, {}))
end

local function has_front_matter(meta)
  local variable = PANDOC_WRITER_OPTIONS.variables.documentclass
  local class = variable and tostring(variable) or stringify(meta.documentclass or '')
  return typst or CLASSES_WITH_FRONT_MATTER[class]
end

-- The settings with which the book is tried are pandoc's variables.
local function apply_settings(meta, lines)
  for _, line in ipairs(lines) do
    if line[1] == 'setting' then meta[line[2]] = line[3] end
  end
end

local function add(meta, field, blocks, at)
  local there = list_of(meta[field])
  there:insert(at or #there + 1, pandoc.MetaBlocks(blocks))
  meta[field] = there
end

local function says(lines, word)
  for _, line in ipairs(lines) do if line[1] == word then return true end end
end

-- What the output depends on besides the sources, for whoever wants to know when to build again.
local function reads(doc)
  local paths, lines = {}, {}
  doc:walk {Image = function(image) paths[#paths + 1] = image.src end}
  for _, field in ipairs {'bibliography', 'csl'} do
    for _, path in ipairs(list_of(doc.meta[field])) do paths[#paths + 1] = stringify(path) end
  end
  for _, path in ipairs(paths) do
    lines[#lines + 1] = (latex and '% ' or '// ') .. 'fitter: reads ' .. path:gsub('%c', ' ')
  end
  return raw(table.concat(lines, '\n'))
end

local LATEX_PACKAGE = [[
\makeatletter
\@ifpackageloaded{fitter}{}{\IfFileExists{fitter.sty}{\usepackage%s{fitter}}{%%
  \providecommand\imprintkey{}\providecommand\imprintisbn{}\providecommand\imprinthistory{}%%
  \providecommand\imprintpage{\clearpage}%%
  \newenvironment{fitterimprint}{\clearpage\thispagestyle{empty}}{\clearpage}%%
  \providecommand\fillerslot[1]{\clearpage}}}
\ProvideExpandableDocumentCommand\bookset{O{}m}{#1}
\makeatother]]

-- pandoc's template opens the back matter on a recto even when nothing stands in it; the page that
-- would be left empty belongs to the fillers.
local LATEX_BACK_MATTER = [[
\makeatletter
\ifdefined\backmatter
  \let\fitter@backmatter\backmatter
  \def\backmatter{\let\fitter@cleardouble\cleardoublepage\let\cleardoublepage\clearpage
    \fitter@backmatter\let\cleardoublepage\fitter@cleardouble}
\fi
\makeatother]]

-- TeX looks for the inserts beside it under its own job's name. Where pandoc runs TeX itself that
-- name is `input', so the package is told.
local function latex_package(meta)
  if not (PANDOC_STATE.output_file or ''):match '%.pdf$' then
    return raw(LATEX_PACKAGE:format '')
  end
  local _, path = first_readable(inserts_paths(meta, '.tex'))
  local record = os.getenv 'FITTER_RECORD'
  local options = {
    path and 'inserts={' .. path .. '}' or '', record and 'record={' .. record .. '}' or '',
  }
  return raw(LATEX_PACKAGE:format('[' .. table.concat(options, ',') .. ']'))
end

-- Before the author's own header, which may use the settings, unless it loads the package itself.
local function loads_package(meta)
  local found = false
  local function look(element) found = found or element.text:match 'fitter}' ~= nil end
  for _, part in ipairs(list_of(meta['header-includes'])) do
    if type(part) ~= 'string' then part:walk {RawBlock = look, RawInline = look} end
  end
  return found
end

local function add_latex_head(meta)
  local own = loads_package(meta)
  add(meta, 'header-includes', {latex_package(meta)}, not own and 1 or nil)
  add(meta, 'header-includes', {raw(LATEX_BACK_MATTER)})
end

-- The settings come before what the author's own header says, the rest of the package behind it.
local function typst_settings(lines)
  return {raw(typst_lines(lines)), raw(beside_the_filter 'bookset.typ')}
end

local function typst_head(meta, lines)
  local twoside = not has_option(meta, 'oneside')
  local openright = twoside and not has_option(meta, 'openany')
  local blocks = pandoc.List {
    raw('#let fitter-twoside = ' .. tostring(twoside)),
    raw('#let fitter-openright = ' .. tostring(openright)),
  }
  blocks:extend(typst_bodies(lines))
  blocks:insert(raw(beside_the_filter 'fitter.typ'))
  return blocks
end

local function on_paper(doc)
  local lines = inserts(doc.meta)
  apply_settings(doc.meta, lines)
  add(doc.meta, 'header-includes', {reads(doc)})
  local front, main = pandoc.List {}, doc.blocks
  if has_front_matter(doc.meta) then front, main = front_and_main(doc.blocks) end
  local function for_paper(blocks, in_front)
    local body = pandoc.Pandoc(blocks)
    if typst and says(lines, 'record-text') then body = body:walk(record_text) end
    return body:walk({Header = heading(in_front)}):walk({Div = paper_div}).blocks
  end
  front, main = for_paper(front, true), for_paper(main, false)
  if latex then
    add_latex_head(doc.meta)
  else
    add(doc.meta, 'header-includes', typst_settings(lines), 1)
    add(doc.meta, 'header-includes', typst_head(doc.meta, lines))
    front:insert(1, raw '#show: fitter-draft')
    local had_back = slots.back and 'true' or 'false'
    add(doc.meta, 'include-after', {raw('#fitter-end(had-back: ' .. had_back .. ')')})
  end
  if has_contents then doc.meta.toc = false end
  if #front > 0 then add(doc.meta, 'include-before', front) end
  doc.blocks = main
  return doc
end

function Pandoc(doc)
  if doc.meta['fitter-filler'] then
    return pandoc.Pandoc(doc:walk(filler_parts):walk(plain_code).blocks)
  end
  if raw_format then return on_paper(doc) end
  return doc:walk {Div = paperless_div(inserts(doc.meta))}
end
