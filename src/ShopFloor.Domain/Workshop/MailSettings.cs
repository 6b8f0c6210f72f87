namespace ShopFloor.Domain.Workshop;

/// <summary>How the line to the mail server is kept secret.</summary>
public enum MailLine
{
    /// <summary>Begins open and changes to TLS (port 587); refuses to go on when it cannot.</summary>
    StartTls,

    /// <summary>TLS from the first byte (port 465).</summary>
    Tls,

    /// <summary>Open; only for a server on the same machine.</summary>
    Open,
}

/// <summary>A mail that the program writes by itself. <c>{name}</c>, <c>{order}</c> and <c>{workshop}</c> are filled in.</summary>
/// <param name="Subject">One line.</param>
/// <param name="Text">Plain text; an empty line begins a paragraph.</param>
public sealed record MailText(string Subject, string Text)
{
    /// <summary>The text with its places filled.</summary>
    public MailText Filled(string name, string order, string workshop, string question = "")
    {
        var places = new Dictionary<string, string>(StringComparer.Ordinal)
        {
            [TextPlaces.Name] = name,
            [TextPlaces.Order] = order,
            [TextPlaces.Workshop] = workshop,
            [TextPlaces.Question] = question,
        };
        return new MailText(TextPlaces.Fill(Subject, places), TextPlaces.Fill(Text, places));
    }

    /// <summary>What is wrong, beside its field.</summary>
    /// <param name="field">Beginning of the names of its fields.</param>
    /// <param name="places">What is filled in.</param>
    internal IEnumerable<Refusal> Faults(string field, IReadOnlyList<string> places)
    {
        if (Subject.Trim().Length is < 1 or > 150 || Subject.Any(char.IsControl))
            yield return new Refusal("mail-settings", "One line of at most 150 characters.", field + nameof(Subject));
        if (Text.Trim().Length is < 1 or > 4000)
            yield return new Refusal("mail-settings", "At most 4,000 characters.", field + nameof(Text));
        foreach (var (words, part) in new[] { (Subject, nameof(Subject)), (Text, nameof(Text)) })
            if (TextPlaces.Fault(words, places) is { } fault)
                yield return new Refusal("mail-settings", fault, field + part);
    }
}

/// <summary>All mails that the program writes by itself, in one language.</summary>
/// <param name="Ready">The ready notice.</param>
/// <param name="PickUp">The reminder that something still lies here.</param>
/// <param name="Overdue">The mail that carries an overdue reminder.</param>
/// <param name="Question">The mail that carries a question.</param>
public sealed record MailTexts(MailText Ready, MailText PickUp, MailText Overdue, MailText Question)
{
    /// <summary>What is filled into most mails.</summary>
    public static IReadOnlyList<string> Places { get; } = [TextPlaces.Name, TextPlaces.Order, TextPlaces.Workshop];

    /// <summary>What is filled into the mail with a question.</summary>
    public static IReadOnlyList<string> PlacesOfQuestion { get; } = [.. Places, TextPlaces.Question];

    /// <summary>What is wrong, beside its field.</summary>
    /// <param name="language">Two-letter code that the names of the fields begin with; empty for the first language.</param>
    internal IEnumerable<Refusal> Faults(string language) =>
        [
            .. Ready.Faults(language + nameof(Ready), Places),
            .. PickUp.Faults(language + nameof(PickUp), Places),
            .. Overdue.Faults(language + nameof(Overdue), Places),
            .. Question.Faults(language + nameof(Question), PlacesOfQuestion),
            .. Question.Text.Contains(TextPlaces.Question, StringComparison.Ordinal)
                ? []
                : (Refusal[])[new Refusal("mail-settings", "Write {question} where it shall stand.", language + nameof(Question) + "Text")],
        ];
}

/// <summary>The workshop's mail: the server it goes through and what is sent by itself. The password lies apart.</summary>
public sealed record MailSettings
{
    /// <summary>The server; empty: no mail is written at all.</summary>
    public string Host { get; init; } = "";

    /// <summary>Its port.</summary>
    public int Port { get; init; } = 587;

    /// <summary>How the line is kept secret.</summary>
    public MailLine Line { get; init; }

    /// <summary>Name to sign in with; empty: without.</summary>
    public string User { get; init; } = "";

    /// <summary>Sender; empty: the workshop's e-mail.</summary>
    public string From { get; init; } = "";

    /// <summary>Tell customers when their order is ready.</summary>
    public bool TellReady { get; init; } = true;

    /// <summary>Minutes to wait before telling, so that a mistaken tap can be taken back (common practice: 10, no source).</summary>
    public int ReadyAfterMinutes { get; init; } = 10;

    /// <summary>Days after the ready notice on which a waiting order is reminded of; 0: not (common practice: 7 and 14, no source).</summary>
    public int FirstPickUpDays { get; init; } = 7;

    /// <summary>Days until the second time; 0: not.</summary>
    public int SecondPickUpDays { get; init; } = 14;

    /// <summary>Mail a question about an order to its customer.</summary>
    public bool TellQuestion { get; init; } = true;

    /// <summary>Tell the workshop when a customer has answered, or judged a picture, on the order's page.</summary>
    public bool TellWorkshop { get; init; } = true;

    /// <summary>Make overdue reminders by themselves and mail them.</summary>
    public bool MailOverdue { get; init; }

    /// <summary>The ready notice.</summary>
    public MailText Ready { get; init; } =
        new(
            "Your order {order} is ready",
            "Hello {name},\n\nyour order {order} is ready and can be picked up.\n\nKind regards\n{workshop}"
        );

    /// <summary>The reminder that something still lies here.</summary>
    public MailText PickUp { get; init; } =
        new(
            "Your order {order} is waiting for you",
            "Hello {name},\n\nyour order {order} has been ready for some days and is still with us. Please pick it up, or tell us what we shall do with it.\n\nKind regards\n{workshop}"
        );

    /// <summary>The mail that carries a question; <c>{question}</c> is filled in besides.</summary>
    public MailText Question { get; init; } =
        new(
            "A question about your order {order}",
            "Hello {name},\n\nwe have a question about your order {order}:\n\n{question}\n\nPlease answer on your order's page: scan the code on your ticket, or open the link you were given.\n\nKind regards\n{workshop}"
        );

    /// <summary>The mail that carries an overdue reminder.</summary>
    public MailText Overdue { get; init; } =
        new(
            "Invoice for your order {order}",
            "Hello {name},\n\nan invoice for your order {order} is still open. The letter is attached. If you have paid in the meantime, please disregard it.\n\nKind regards\n{workshop}"
        );

    /// <summary>The mails in further languages, by two-letter code; where one is missing, the shipped words hold.</summary>
    public IReadOnlyDictionary<string, MailTexts> InLanguage { get; init; } = new Dictionary<string, MailTexts>();

    /// <summary>The mails in the first language.</summary>
    [System.Text.Json.Serialization.JsonIgnore]
    public MailTexts First => new(Ready, PickUp, Overdue, Question);

    /// <summary>What is wrong, beside its field; empty when sound.</summary>
    public IReadOnlyList<Refusal> Check()
    {
        List<Refusal> faults = [];
        void Must(bool ok, string field, string text)
        {
            if (!ok)
                faults.Add(new Refusal("mail-settings", text, field));
        }
        Must(Host.Length <= 200 && !Host.Any(c => char.IsWhiteSpace(c) || c is '/' or ':'), nameof(Host), "A name like mail.example.org.");
        Must(Port is >= 1 and <= 65_535, nameof(Port), "Between 1 and 65,535.");
        Must(User.Length <= 200, nameof(User), "At most 200 characters.");
        Must(From.Length == 0 || Orders.Customer.LooksLikeMail(From), nameof(From), "An e-mail address, e.g. shop@example.org.");
        Must(ReadyAfterMinutes is >= 0 and <= 1440, nameof(ReadyAfterMinutes), "Between 0 and 1,440 minutes.");
        Must(FirstPickUpDays is >= 0 and <= 365, nameof(FirstPickUpDays), "Between 0 and 365 days.");
        Must(
            SecondPickUpDays == 0 || (SecondPickUpDays > FirstPickUpDays && SecondPickUpDays <= 365),
            nameof(SecondPickUpDays),
            "Later than the first, at most 365 days; 0 for none."
        );
        faults.AddRange(First.Faults(""));
        foreach (var (language, texts) in InLanguage)
            faults.AddRange(texts.Faults(language));
        return faults;
    }
}
