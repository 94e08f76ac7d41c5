//! The metadata packet (ISO 16684-1): title, dates, what the file conforms to.

use trowelogue_core::text::Lang;

use super::FileFacts;
use super::catalog::is_accessible;
use crate::scene::Scene;

/// The packet.
pub(crate) fn packet(scene: &Scene, facts: &FileFacts) -> String {
    let date = facts.issued.to_rfc3339_opts(chrono::SecondsFormat::Secs, false);
    let (title, author, subject) = (escape(&scene.title), escape(&scene.author), escape(&scene.subject));
    let (tool, id, catalogue) = (escape(facts.tool), escape(facts.paper_id), escape(facts.catalogue));
    let lang = match scene.lang {
        Lang::En => "en",
        Lang::Es => "es",
    };
    let accessible = is_accessible(facts.claim);
    let level = if accessible { "A" } else { "B" };
    let ua = if accessible { UA_CLAIM } else { "</rdf:Description>\n" };
    format!(
        r#"<?xpacket begin="{bom}" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/">
<rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
<rdf:Description rdf:about=""
 xmlns:dc="http://purl.org/dc/elements/1.1/"
 xmlns:pdf="http://ns.adobe.com/pdf/1.3/"
 xmlns:xmp="http://ns.adobe.com/xap/1.0/"
 xmlns:pdfaid="http://www.aiim.org/pdfa/ns/id/"
 xmlns:pdfuaid="http://www.aiim.org/pdfua/ns/id/">
<dc:format>application/pdf</dc:format>
<dc:title><rdf:Alt><rdf:li xml:lang="x-default">{title}</rdf:li></rdf:Alt></dc:title>
<dc:description><rdf:Alt><rdf:li xml:lang="x-default">{subject}</rdf:li></rdf:Alt></dc:description>
<dc:creator><rdf:Seq><rdf:li>{author}</rdf:li></rdf:Seq></dc:creator>
<dc:language><rdf:Bag><rdf:li>{lang}</rdf:li></rdf:Bag></dc:language>
<dc:identifier>{id}</dc:identifier>
<dc:source>{catalogue}</dc:source>
<pdf:Producer>{tool}</pdf:Producer>
<xmp:CreatorTool>{tool}</xmp:CreatorTool>
<xmp:CreateDate>{date}</xmp:CreateDate>
<xmp:ModifyDate>{date}</xmp:ModifyDate>
<xmp:MetadataDate>{date}</xmp:MetadataDate>
<pdfaid:part>3</pdfaid:part>
<pdfaid:conformance>{level}</pdfaid:conformance>
{ua}</rdf:RDF>
</x:xmpmeta>
<?xpacket end="r"?>"#,
        bom = '\u{FEFF}',
    )
}

/// The claim of PDF/UA-1, and the description of its schema that PDF/A asks for (ISO 19005-3, 6.6.2.3).
const UA_CLAIM: &str = r#"<pdfuaid:part>1</pdfuaid:part>
</rdf:Description>
<rdf:Description rdf:about=""
 xmlns:pdfaExtension="http://www.aiim.org/pdfa/ns/extension/"
 xmlns:pdfaSchema="http://www.aiim.org/pdfa/ns/schema#"
 xmlns:pdfaProperty="http://www.aiim.org/pdfa/ns/property#">
<pdfaExtension:schemas><rdf:Bag><rdf:li rdf:parseType="Resource">
<pdfaSchema:schema>PDF/UA identification</pdfaSchema:schema>
<pdfaSchema:namespaceURI>http://www.aiim.org/pdfua/ns/id/</pdfaSchema:namespaceURI>
<pdfaSchema:prefix>pdfuaid</pdfaSchema:prefix>
<pdfaSchema:property><rdf:Seq><rdf:li rdf:parseType="Resource">
<pdfaProperty:name>part</pdfaProperty:name>
<pdfaProperty:valueType>Integer</pdfaProperty:valueType>
<pdfaProperty:category>internal</pdfaProperty:category>
<pdfaProperty:description>Part of the standard the file conforms to</pdfaProperty:description>
</rdf:li></rdf:Seq></pdfaSchema:property>
</rdf:li></rdf:Bag></pdfaExtension:schemas>
</rdf:Description>
"#;

/// Text for XML. Characters XML 1.0 cannot carry become the replacement character.
fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\t' | '\n' | '\r' => out.push(' '),
            '\u{0}'..='\u{1F}' | '\u{FFFE}' | '\u{FFFF}' => out.push('\u{FFFD}'),
            _ => out.push(c),
        }
    }
    out
}
