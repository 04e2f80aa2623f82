"""The labels of forms in usual wordings, as regular expressions over folded words."""

from __future__ import annotations

import re

from preflight.papers.words.lettering import keyed

TITLE = (
    r"(?:full |invention )?title(?: of (?:the |this )?(?:invention|application))?"
    r"(?: (?:max )?\d+ characters(?: max(?:imum)?)?)?"
)
DOCKET = (
    r"(?:attorney |atty |agent |client |our |practitioner |filer s )*(?:docket|dkt|file|matter|ref|reference)"
    r"(?: (?:no|number|reference|ref))*(?: optional| if any)?"
)
FIRST_INVENTOR = r"(?:name of )?(?:the )?first (?:named|listed) inventor(?: or applicant| applicant)?(?: name)?"
INVENTORS = (
    r"(?:name s of |names? of |the |all |full name of |sole |first |second |third |joint )*inventors?(?: s)?"
    r"(?: information| names?| and residences?| s names?| \d{1,2})?"
)
APPLICANT = r"applicants?(?: name| legal name| s name)?|name of (?:the )?applicant"
RESIDENCE = (
    r"(?:place of |city of |inventor )?residence(?: s)?(?: \d{1,2})?"
    r"(?: city and (?:either )?(?:us )?state or (?:foreign )?country| city (?:and )?state(?: and)? country)?"
)
CITY = r"(?:city|town)(?: of residence)?|residence city"
STATE = r"(?:us )?(?:state|province|state (?:or )?province|state (?:or )?(?:foreign )?country)(?: of residence)?"
COUNTRY = r"(?:foreign )?country(?: of residence)?"
NAME = (
    r"(?:full |legal |printed |typed |print |type |or )*name"
    r"(?: of (?:the )?(?:signer|signatory|practitioner|person signing))?"
    r"(?: printed typed| print type| printed or typed| print or type)?"
)
GIVEN = r"given names?(?: first and middle(?: if any)?)?|first (?:and middle )?name"
FAMILY = r"(?:family name|last name|surname)(?: or surname)?"
ENTITY = r"(?:applicant )?entity(?: status| type| size)?(?: claimed)?|fee status"
TOTAL = (
    r"total(?: (?:fees?|amount|fee amount|payment|filing fees?))*(?: (?:of payment|due|enclosed|paid|submitted))*"
    r"(?: usd)?"
)
FEE = (
    r"(?:basic )?(?:provisional )?(?:application )?(?:filing )?fees?(?: amount)?"
    r"(?: (?:due|enclosed|paid|submitted|to be paid))?(?: usd)?"
    r"|amount(?: of (?:fee|payment))?(?: (?:due|enclosed|paid))?|payment(?: amount)?"
)
ADDRESS = r"(?:the )?correspondence address(?: .*)?|direct all correspondence to(?: .*)?|address for correspondence"
MAILING = r"mailing address(?: of (?:the )?inventor)?(?: 1)?|(?:inventor )?mailing street address"
CUSTOMER = r"(?:the address (?:corresponding to|associated with) )?customer (?:no|number)"
PRACTITIONER = (
    r"(?:name of (?:the )?)?(?:registered |patent )*(?:practitioner|attorney(?: or agent)?|agent|representative)"
    r"(?: s)?(?: name)?(?: if any)?"
)
REGISTRATION = r"(?:practitioner s? ?)?reg(?:istration)? (?:no|number)(?: if (?:appropriate|applicable))?"
AGENCY = (
    r"(?:the )?(?:name of the )?(?:u ?s )?(?:government )?agency(?: name)?(?: and (?:the )?government contract number)?"
)
CONTRACT = r"(?:and )?(?:the )?(?:government )?(?:contract|grant|award) (?:no|number)"
SIGNATURE = r"(?:inventor |applicant |practitioner )?(?:s )?signatures?(?: of .*)?|signed(?: by)?"
DATE = r"date(?: signed| of signature| optional)?(?: (?:yyyy|mm|dd|month|day|year))*"
PAGES = (
    r"specification(?: e g .*)? (?:number of )?pages|number of (?:specification )?pages(?: of (?:the )?specification)?"
)
SHEETS = r"drawings?(?: s)? (?:number of )?sheets|(?:number of )?(?:drawing )?sheets(?: of (?:the )?drawings?)?"
EARLIER = (
    r"(?:prior|parent|earlier|related|foreign|priority|provisional) application (?:no|number)(?: s)?"
    r"|(?:benefit of|continuation of|continuity|priority claimed to)(?: application)?(?: (?:no|number))?"
    r"|foreign priority application (?:no|number)|priority (?:date|number)|prior filing date"
)
_APPLICATION = (
    r"application (?:no|number|type)(?: .*)?|(?:application|patent) number or control number(?: .*)?"
    r"|patent (?:no|number)(?: .*)?|filing date"
)
TELEPHONE = r"(?:tele)?phone(?: (?:no|number))?"
_REACH = (
    rf"{TELEPHONE}|e ?mail(?: address)?|fax(?: (?:no|number))?|zip(?: code)?|postal code"
    r"|street(?: address)?|address(?: \d)?|firm(?: or individual)?(?: name)?|organization(?: name)?"
)
_HEADINGS = (
    r"enclosed application parts(?: .*)?|applicants?|assignees?|practitioner|method of payment(?: .*)?|specification"
    r"|drawings?|government (?:interest|rights|support)(?: .*)?|inventor s|submitted by|to|re|from|cc"
)
ANY = re.compile(
    "|".join(
        f"(?:{words})"
        for words in (
            *(TITLE, DOCKET, FIRST_INVENTOR, INVENTORS, RESIDENCE, CITY, STATE, COUNTRY, NAME, GIVEN, FAMILY, ENTITY),
            *(
                TOTAL,
                FEE,
                ADDRESS,
                CUSTOMER,
                PRACTITIONER,
                REGISTRATION,
                AGENCY,
                CONTRACT,
                SIGNATURE,
                DATE,
                PAGES,
                SHEETS,
            ),
            *(MAILING, EARLIER, _APPLICATION, _REACH, _HEADINGS),
        )
    )
)
"""Any label that a form of a filing may carry."""


CLOSED = re.compile(
    "|".join(
        f"(?:{words})"
        for words in (TITLE, DOCKET, FIRST_INVENTOR, NAME, CUSTOMER, REGISTRATION, SIGNATURE, DATE, ENTITY, TELEPHONE)
    )
)
"""Labels that close with their last word, so that a value may follow at once without a colon."""


def spaced(name: str) -> str:
    """The folded words of a form field's name: "Given_NameRow1" becomes "given name row 1"."""
    return keyed(re.sub(r"(?<=[a-z])(?=[A-Z0-9])", " ", name).replace("_", " ").replace(".", " "))
