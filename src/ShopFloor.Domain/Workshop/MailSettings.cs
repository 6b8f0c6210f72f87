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
    public MailText Filled(string name, string order, string workshop)
    {
        string Fill(string text) =>
            text.Replace("{name}", name, StringComparison.Ordinal)
                .Replace("{order}", order, StringComparison.Ordinal)
                .Replace("{workshop}", workshop, StringComparison.Ordinal);
        return new MailText(Fill(Subject), Fill(Text));
    }
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
        Must(From.Length == 0 || (From.Contains('@', StringComparison.Ordinal) && From.Length <= 254), nameof(From), "An e-mail address.");
        Must(ReadyAfterMinutes is >= 0 and <= 1440, nameof(ReadyAfterMinutes), "Between 0 and 1,440 minutes.");
        Must(FirstPickUpDays is >= 0 and <= 365, nameof(FirstPickUpDays), "Between 0 and 365 days.");
        Must(
            SecondPickUpDays == 0 || (SecondPickUpDays > FirstPickUpDays && SecondPickUpDays <= 365),
            nameof(SecondPickUpDays),
            "Later than the first, at most 365 days; 0 for none."
        );
        foreach (
            var (text, field) in new[]
            {
                (Ready, nameof(Ready)),
                (PickUp, nameof(PickUp)),
                (Overdue, nameof(Overdue)),
                (Question, nameof(Question)),
            }
        )
        {
            Must(text.Subject.Trim().Length is >= 1 and <= 150, field + "Subject", "One line of at most 150 characters.");
            Must(text.Text.Trim().Length is >= 1 and <= 4000, field + "Text", "At most 4,000 characters.");
        }
        Must(
            Question.Text.Contains("{question}", StringComparison.Ordinal),
            nameof(Question) + "Text",
            "Write {question} where it shall stand."
        );
        return faults;
    }
}
